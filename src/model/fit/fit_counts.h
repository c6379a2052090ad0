/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Whole counts where several bands share one. Called by fit.c alone.
 */
#ifndef STRANDWISE_FIT_COUNTS_H
#define STRANDWISE_FIT_COUNTS_H

#include "fit.h"

/* The counts around the target with motifs so wide, which go into all bands that share the count too.
 * *below 0: none. Returned: from one such count to the next; 0: there is none.
 * Checked: test_fit: counted out over small repeats. */
int64_t fit_counts_around(const struct fit_question *question, int width, int64_t *below, int64_t *above);

/* Does it go into all bands that share the count? Its own repeat is not asked. */
bool fit_suits_shared(const struct fit_question *question, int64_t stitches);

#endif
