/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Increases or decreases from one count to another. The line to knit from is put into words by
 * words/shaping.c.
 */
#ifndef STRANDWISE_SHAPING_H
#define STRANDWISE_SHAPING_H

#include <stdbool.h>
#include <stdint.h>

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

#endif
