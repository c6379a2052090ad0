/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "catches_ground.h"

#include <string.h>

void catch_ground_clear(struct catch_ground *ground)
{
    memset(ground->at, 0, (size_t)ground->ncols * sizeof *ground->at);
    for (int c = 0; ground->alone && c < ground->ncols; c++)
        ground->at[c] = ground->key.stack_unit;
}

static void add_beside(struct catch_ground *ground, int column, uint64_t key)
{
    if (column < 0 || column >= ground->ncols) {
        if (!ground->ring)
            return;
        column = (column % ground->ncols + ground->ncols) % ground->ncols;
    }
    ground->at[column] += key;
}

/* Taking up again adds the negative, modulo 2^64: the sums come out all the same. */
void catch_ground_add(struct catch_ground *ground, int column, int stacks, int nears)
{
    ground->at[column] += ground->key.stack_unit * (uint64_t)stacks;
    for (int away = 1; away < ground->stagger_cols; away++) {
        add_beside(ground, column - away, ground->key.near_unit * (uint64_t)nears);
        add_beside(ground, column + away, ground->key.near_unit * (uint64_t)nears);
    }
}

/* Two strands behind one stitch; in a row that lies on itself stacked above and below too. */
void catch_ground_add_here(struct catch_ground *ground, int column, int sign)
{
    catch_ground_add(ground, column, sign * (ground->alone ? 3 : 1),
                     sign * (ground->alone ? 2 : 0));
}
