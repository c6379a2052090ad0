/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Catches placed row by row, for a closed ring or for the whole rows of flat work.
 *
 * Each float takes its best places given the rows below and above as they stand. The rows
 * are gone through a fixed number of times: upwards first, when the row above is not yet
 * known, then again with both neighbours known; no time through makes the whole worse.
 * Called by catches.c and catches_open.c.
 */
#ifndef STRANDWISE_CATCHES_ROWS_H
#define STRANDWISE_CATCHES_ROWS_H

#include "catches.h"

/* What is caught. A ring is one repeat; flat work has sides (NULL or ncols 0: none). */
struct catch_cloth {
    const struct grid *repeat, *left, *right;
    int repeats;
    enum float_ends ends;
    const struct catch_map *inner; /* of the repeat, its catches standing in every copy: only the
                                      other floats are placed. NULL: every float is. */
};

/* mark: the catches placed. Counts and pairs: of these and the copies of `inner` together. */
const struct catch_map *catches_rows_place(struct work *work, const struct catch_cloth *cloth,
                                           const struct catch_rules *rules);

#endif
