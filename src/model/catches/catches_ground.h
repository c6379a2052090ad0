/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a catch would meet in each column of a row: the rows below and above, and the
 * strands already caught in the row itself. Kept as keys (catches_float.h).
 */
#ifndef STRANDWISE_CATCHES_GROUND_H
#define STRANDWISE_CATCHES_GROUND_H

#include <stdbool.h>
#include <stdint.h>

#include "catches_float.h"

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
