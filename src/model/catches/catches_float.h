/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The best places for the catches of one float, all others standing still. Called by
 * catches_rows.c. Pure but for the scratch room it is handed.
 *
 * What counts is packed in one key, so that comparing keys compares in order: pairs stacked
 * or doubled, pairs too near, breaches of clear_ends, sum of squared pieces.
 */
#ifndef STRANDWISE_CATCHES_FLOAT_H
#define STRANDWISE_CATCHES_FLOAT_H

#include <stdbool.h>
#include <stdint.h>

#include "catches.h"

struct arena;

/* How a key is packed, for one piece of work. */
struct catch_key {
    uint64_t stack_unit; /* one pair stacked or doubled; what is below it ranks lower */
    uint64_t near_unit;
    uint64_t clear_unit;
    int square_shift; /* 0 for all but rows of some hundred thousand stitches, where evenness
                         has to be compared more coarsely to fit */
    int leave_sts, clear_ends;
};

/* Given: row_sts, the most stitches in a row; nyarns, in the whole of it. */
struct catch_key catches_key(const struct catch_rules *rules, int row_sts, int nyarns);

/* A float to be caught. Stitch p of it (1..span_sts) is in chart column `column[p - 1]`. */
struct catch_float {
    const int *column;
    int span_sts;
};

/* Room for the search, reused from float to float; for floats of up to row_sts stitches. */
struct catch_scratch {
    uint64_t *value[2];
    int *next;
};
struct catch_scratch catches_scratch(struct arena *arena, int row_sts);

/* Fewest of the fewest: towards the middle and the first from the right, whatever stands near.
 * position[ncatches] filled, from 1, ascending. Returned: false if a breach of the ends rule
 * or of clear_ends, or anything of `ground`, is met on the way (position is then no use). */
bool catches_float_even(const struct catch_key *key, const struct catch_float *span,
                        const uint64_t *ground, int ncatches, int *position);

/* The best ncatches positions, found exactly; among equals the first from the right.
 * Given: ground[column], the key of a catch there; ncatches from the fewest up to one more
 * (one more only where that is at most span_sts - 2). Returned: the key, of all ncatches
 * together. */
uint64_t catches_float_place(const struct catch_key *key, const struct catch_float *span,
                             const uint64_t *ground, int ncatches, int *position,
                             struct catch_scratch *scratch);

/* What a catch would meet in each column of a row: the rows below and above, and the strands already caught in
 * the row itself. Kept as keys. */
struct catch_ground {
    uint64_t *at; /* [ncols]: the key of a catch in that column */
    int ncols;
    bool ring;  /* columns modulo ncols */
    bool alone; /* the row lies on itself: the chart's only one, worked more than once upwards */
    int stagger_cols;
    struct catch_key key;
};

/* Nothing near: but in a row that lies on itself every catch stands on its own copy. */
void catch_ground_clear(struct catch_ground *ground);

/* One catch more in `column`: of a neighbouring row `stacks` and `nears` times, of the same row
 * with catch_ground_add_here(). Negative: it is taken up again. */
void catch_ground_add(struct catch_ground *ground, int column, int stacks, int nears);
void catch_ground_add_here(struct catch_ground *ground, int column, int sign);

#endif
