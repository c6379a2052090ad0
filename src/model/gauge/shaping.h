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
#ifndef STRANDWISE_SHAPING_H
#define STRANDWISE_SHAPING_H

#include <stdbool.h>
#include <stdint.h>

struct work;

struct shaping {
    int from, to;     /* stitches before and after */
    int rounds;       /* rounds (rows) of shaping it takes: 1, or more when one cannot */
    const char *line; /* "k3, m1, (k6, m1) 11 times, k3"; several rounds: joined by "; then " */
    const char *sum;  /* "72 + 12 = 84" / "84 - 12 = 72"; several rounds: "9 - 1 - 4 - 2 = 2" */
};

/* Rounds (rows) of shaping from one count (above 0) to another: a round doubles at most, or halves at
 * most (the odd stitch over stays). */
int shaping_rounds(int64_t from, int64_t to);

/* Every gap of the line alike: the plain stitches are a multiple of the shapings, or nothing is shaped.
 * Of more than a round: each doubles, or each halves. */
bool shaping_is_even(int64_t from, int64_t to);

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

/* What a line does, read back: stitches used and left (of several rounds, by the first and after
 * the last). false if it is not one of our lines. For checks and tests. */
bool shaping_read_back(const char *line, int *used, int *left);

#endif
