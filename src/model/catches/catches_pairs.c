/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "catches_pairs.h"

#include <string.h>

#include "base/arena.h"

struct catch_pairs catch_pairs_begin(struct arena *arena, int ncols, bool ring)
{
    struct catch_pairs pairs = {.ring = ring, .ncols = ncols};

    pairs.below = arena_alloc(arena, (size_t)ncols, 1);
    pairs.here = arena_alloc(arena, (size_t)ncols, 1);
    return pairs;
}

static int below_beside(const struct catch_pairs *pairs, int column)
{
    if (column < 0 || column >= pairs->ncols) {
        if (!pairs->ring)
            return 0;
        column = (column + pairs->ncols) % pairs->ncols;
    }
    return pairs->below[column];
}

void catch_pairs_add_again(struct catch_pairs *pairs, int column)
{
    pairs->stacked += pairs->below[column];
    pairs->touching += below_beside(pairs, column - 1) + below_beside(pairs, column + 1);
}

void catch_pairs_add(struct catch_pairs *pairs, int column)
{
    catch_pairs_add_again(pairs, column);
    pairs->doubled += pairs->here[column];
    pairs->here[column]++;
}

void catch_pairs_next_row(struct catch_pairs *pairs)
{
    uint8_t *done = pairs->here;

    pairs->here = pairs->below;
    pairs->below = done;
    memset(pairs->here, 0, (size_t)pairs->ncols);
}
