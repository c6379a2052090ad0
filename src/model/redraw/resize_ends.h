/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Tips and short arms that a redrawn chart has no more.
 */
#ifndef STRANDWISE_RESIZE_ENDS_H
#define STRANDWISE_RESIZE_ENDS_H

#include "resize.h"

struct resize_ends {
    int lost;       /* ends that are gone, of all parts */
    const int *row; /* rows of the old chart that have ends of the parts that lost some */
    int nrows;
};

/* An end is a stitch of the pattern (not the ground) that hangs together with one other of its part at most. Given:
 * the old chart and an answer's of it. Returned: of each part the ends that it has more than the new parts that lie
 * over it; a short line (two ends) that is one stitch now has lost none.
 * Checked: test_redraw_motif, small charts by hand. */
struct resize_ends resize_ends_lost(struct work *work, const struct resize_question *question,
                                    const struct grid *chart, const struct motif_line *columns,
                                    const struct motif_line *rows);

#endif
