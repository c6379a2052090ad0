/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A chart as numbers: which yarn each stitch is in.
 */
#ifndef STRANDWISE_GRID_H
#define STRANDWISE_GRID_H

#include <stddef.h>
#include <stdint.h>

enum {
    GRID_NO_STITCH = 255, /* an empty square: keeps its column, is no stitch */
    GRID_YARNS_MAX = 64,
    GRID_SIDE_MAX = 5000,        /* rows, or columns, of one chart */
    GRID_CELLS_MAX = 25000000
};

/* cell[nrows * ncols], row-major; row 0 is the cast-on edge, column 0 the rightmost, the
 * first to be knitted on the right side. Values: yarn index, or GRID_NO_STITCH. */
struct grid {
    int nrows;
    int ncols;
    const uint8_t *cell;
};

/* Given: a row and a column of the chart. */
static inline uint8_t grid_at(const struct grid *grid, int row, int column)
{
    return grid->cell[(size_t)row * (size_t)grid->ncols + (size_t)column];
}

#endif
