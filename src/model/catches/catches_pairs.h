/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Counting the pairs of catches that stand on, or beside, each other, row after row.
 */
#ifndef STRANDWISE_CATCHES_PAIRS_H
#define STRANDWISE_CATCHES_PAIRS_H

#include <stdbool.h>
#include <stdint.h>

struct arena;

struct catch_pairs {
    int64_t stacked, doubled, touching;
    bool ring; /* columns modulo ncols */
    int ncols;
    uint8_t *below, *here; /* catches in each column; fewer than GRID_YARNS_MAX */
};

struct catch_pairs catch_pairs_begin(struct arena *arena, int ncols, bool ring);
/* One catch of the row being counted, in any order. */
void catch_pairs_add(struct catch_pairs *pairs, int column);
/* The row is done: the next one lies above it. */
void catch_pairs_next_row(struct catch_pairs *pairs);
/* One catch of the first row, met again above the last. */
void catch_pairs_add_again(struct catch_pairs *pairs, int column);

#endif
