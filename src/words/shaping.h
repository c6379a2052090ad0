/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Increases or decreases spread evenly, as a line to knit from.
 *
 * Terms: k shapings over `from` stitches. m1 uses no stitch; k2tog uses two and leaves one.
 * Plain stitches shared out: P = from (increases), from - 2k (decreases). Shaping i of k
 * (from 0) comes after ((2i+1) P + k) div (2k) plain stitches: half a gap at each end, right
 * in the round and flat. In the round a line may slide each shaping by at most one stitch
 * where that takes fewer words.
 */
#ifndef STRANDWISE_WORDS_SHAPING_H
#define STRANDWISE_WORDS_SHAPING_H

#include "model/gauge/shaping.h"

struct work;

/* Given: 1 <= from, to <= 1000000.
 * Returned in *shaping: line and sum NULL and rounds 0 when from == to.
 * Status: 0; 1 more than one round needed (more than one m1 a stitch, or more decreases than
 *   half the stitches: split into rounds that each halve or double at most, each spread
 *   evenly); -1 counts out of range.
 * Notes: the line of fewest words: the half-gap line with equal neighbours in brackets, or
 *   that of the part which repeats gcd times, in the round also slid; of equal ones the
 *   nearest to half a gap, then the shortest. Past about a thousand shapings not every slide
 *   is tried.
 * Checked: test_shaping: the lines of craft literature, and every line read back stitch by
 *   stitch: counts and spacing for all from, to up to 200. */
int shaping_spread(struct work *work, int from, int to, bool round, struct shaping *shaping);

#endif
