/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Charts written out in a test: top row first, as knitters draw them.
 */
#ifndef STRANDWISE_TEST_SMALL_CHART_H
#define STRANDWISE_TEST_SMALL_CHART_H

#include <stdint.h>
#include <string.h>

#include "base/arena.h"
#include "base/grid.h"
#include "base/work.h"

/* marks: one character a yarn, in yarn order; further characters of a yarn after a space are
 * not wanted in tests. ' ' in a row is no stitch. */
static inline struct grid small_chart(struct arena *arena, const char *const *rows, int nrows,
                                      const char *marks)
{
    int ncols = (int)strlen(rows[0]);
    uint8_t *cell = arena_alloc(arena, (size_t)nrows * (size_t)ncols, 1);

    for (int r = 0; r < nrows; r++)
        for (int c = 0; c < ncols; c++) {
            char mark = rows[nrows - 1 - r][ncols - 1 - c];

            cell[r * ncols + c] =
                mark == ' ' ? GRID_NO_STITCH : (uint8_t)(strchr(marks, mark) - marks);
        }
    return (struct grid){nrows, ncols, cell};
}

#define SMALL_CHART(arena, rows, marks)                                                            \
    small_chart(arena, rows, (int)(sizeof(rows) / sizeof *(rows)), marks)

/* Numbers that only look random, the same on every machine. */
static inline uint32_t dice(uint64_t *state)
{
    *state = *state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (uint32_t)(*state >> 33);
}

static inline uint32_t dice_below(uint64_t *state, uint32_t limit)
{
    return dice(state) % limit;
}

#endif
