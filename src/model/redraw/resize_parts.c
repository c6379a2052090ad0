/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Which squares of a chart hang together.
 */
#include "resize_internal.h"

struct resize_parts resize_parts_make(struct arena *arena, int ncols, int nrows, bool ring)
{
    size_t n = (size_t)ncols * (size_t)nrows;
    struct resize_parts parts = {.grid = {nrows, ncols, NULL}, .ring = ring};

    parts.diagonal = arena_alloc(arena, n, 1);
    parts.part = arena_alloc(arena, n, sizeof *parts.part);
    parts.root = arena_alloc(arena, n, sizeof *parts.root);
    return parts;
}

static int root_of(int *root, int i)
{
    while (root[i] != i)
        i = root[i] = root[root[i]];
    return i;
}

static void unite(int *root, int a, int b)
{
    a = root_of(root, a);
    b = root_of(root, b);
    if (a < b)
        root[b] = a;
    else
        root[a] = b;
}

/* Where two colours cross at the corner above row r and left of column c: which hangs together,
 * by the sixteen squares round about. */
static uint8_t crossing(const struct resize_parts *parts, const uint8_t *cell, int c, int r)
{
    int ncols = parts->grid.ncols, nrows = parts->grid.nrows;
    uint8_t a = cell[r * ncols + c], b = cell[r * ncols + (c + 1) % ncols];
    int of_a = 0, of_b = 0;

    for (int dr = -1; dr <= 2; dr++) {
        int row = r + dr;

        if (!parts->ring && (row < 0 || row >= nrows))
            continue;
        row = (row + nrows) % nrows;
        for (int dc = -1; dc <= 2; dc++) {
            uint8_t found = cell[row * ncols + (c + dc + ncols) % ncols];

            of_a += found == a;
            of_b += found == b;
        }
    }
    return (uint8_t)((of_a <= of_b ? 1 : 0) | (of_b <= of_a ? 2 : 0));
}

/* What hangs together over the corner above row r and left of column c. */
uint8_t resize_parts_corner(const struct resize_parts *parts, const uint8_t *cell, int c, int r)
{
    int ncols = parts->grid.ncols, nrows = parts->grid.nrows;
    int left = c + 1 < ncols ? c + 1 : 0, up = r + 1 < nrows ? r + 1 : 0;
    uint8_t here = cell[r * ncols + c], beside = cell[r * ncols + left];
    uint8_t above = cell[up * ncols + c], corner = cell[up * ncols + left], found = 0;

    if (up == 0 && !parts->ring)
        return 0;
    if (here == corner && here != beside && here != above)
        found = 1;
    if (beside == above && beside != here && beside != corner)
        found |= 2;
    return found == 3 ? crossing(parts, cell, c, r) : found;
}

static void hang_square(struct resize_parts *parts, const uint8_t *cell, int c, int r)
{
    int ncols = parts->grid.ncols, nrows = parts->grid.nrows;
    int left = c + 1 < ncols ? c + 1 : 0, up = r + 1 < nrows ? r + 1 : 0;
    int here = r * ncols + c, beside = r * ncols + left;
    int above = up * ncols + c, corner = up * ncols + left;

    if (cell[here] == cell[beside])
        unite(parts->root, here, beside);
    if (cell[here] == cell[above] && (up > 0 || parts->ring))
        unite(parts->root, here, above);
    parts->diagonal[here] = resize_parts_corner(parts, cell, c, r);
    if (parts->diagonal[here] & 1)
        unite(parts->root, here, corner);
    if (parts->diagonal[here] & 2)
        unite(parts->root, beside, above);
}

void resize_parts_find(struct resize_parts *parts, const uint8_t *cell)
{
    int ncols = parts->grid.ncols, nrows = parts->grid.nrows, n = ncols * nrows;

    parts->grid.cell = cell;
    for (int i = 0; i < n; i++)
        parts->root[i] = i;
    for (int r = 0; r < nrows; r++)
        for (int c = 0; c < ncols; c++)
            hang_square(parts, cell, c, r);
    parts->nparts = 0;
    for (int i = 0; i < n; i++) { /* a root is the first of its part */
        int root = root_of(parts->root, i);

        parts->part[i] = root == i ? parts->nparts++ : parts->part[root];
    }
}

/* The square at (c, r) and the one up and to the left (side 1), or to the right (side -1). */
static bool hangs_up(const struct resize_parts *parts, int c, int r, int side)
{
    int ncols = parts->grid.ncols;

    if (side > 0)
        return (parts->diagonal[r * ncols + c] & 1) != 0;
    return (parts->diagonal[r * ncols + (c > 0 ? c : ncols) - 1] & 2) != 0;
}

/* Does b lie one step from a, in that direction round the ring? */
static bool is_step(int a, int b, int step, int count, bool ring)
{
    int to = a + step;

    if (ring)
        to = to < 0 ? to + count : to >= count ? to - count : to;
    return to == b;
}

bool resize_parts_touch(const struct resize_parts *parts, int a_col, int a_row, int b_col, int b_row)
{
    int ncols = parts->grid.ncols, nrows = parts->grid.nrows;

    for (int up = -1; up <= 1; up++) {
        if (!is_step(a_row, b_row, up, nrows, parts->ring))
            continue;
        for (int side = -1; side <= 1; side++) {
            if (!is_step(a_col, b_col, side, ncols, true))
                continue;
            if (side == 0 || up == 0 ||
                (up > 0 ? hangs_up(parts, a_col, a_row, side) : hangs_up(parts, b_col, b_row, -side)))
                return true;
        }
    }
    return false;
}
