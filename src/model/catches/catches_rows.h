/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Catches placed row by row, for a closed ring or for the whole rows of flat work.
 *
 * Each float takes its best places given the rows below and above as they stand. The rows
 * are gone through a fixed number of times: first for the floats that have one place only,
 * then upwards for all, then down and up again with both neighbours known; no time through
 * makes the whole worse. Called by catches.c.
 */
#ifndef STRANDWISE_CATCHES_ROWS_H
#define STRANDWISE_CATCHES_ROWS_H

#include "catches.h"
#include "catches_cloth.h"

/* mark: the catches placed. Counts and pairs: of these and the copies of `inner` together. */
const struct catch_map *catches_rows_place(struct work *work, const struct catch_cloth *cloth,
                                           const struct catch_rules *rules);

#endif
