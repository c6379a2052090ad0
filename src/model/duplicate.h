/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Stitches sewn on afterwards: how many, in how many separate spots, how far between.
 */
#ifndef STRANDWISE_DUPLICATE_H
#define STRANDWISE_DUPLICATE_H

#include <stdint.h>

#include "base/grid.h"

struct work;

struct duplicate_tally {
    int64_t stitches;
    int64_t spots;         /* groups in which each stitch is within reach of another */
    int64_t across_sts;    /* stitches passed behind from one to the next, sideways */
    int64_t up_rows;       /* and upwards */
};

/* One drawn grid, one yarn. reach: longest jump behind, in stitches or rows, >= 1.
 * Notes: a spot is sewn row by row from below, each row from its right; from stitch to stitch
 *   the strand passes |dx| - 1 stitches and |dy| - 1 rows, none between neighbours. Spots do not
 *   join over the repeat. Source: common practice, no source; the counting is ours.
 * Checked: test_duplicate, by hand. */
void duplicate_tally_grid(struct work *work, const struct grid *grid, int yarn, int reach,
                          struct duplicate_tally *tally);

#endif
