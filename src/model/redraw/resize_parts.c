/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Which squares of a chart hang together.
 */
#include <string.h>

#include "resize_internal.h"

const int resize_ways[RESIZE_WAYS][2] = {{1, 0}, {0, 1}, {1, 1}, {-1, 1}};

int resize_root(int *root, int i)
{
    while (root[i] != i)
        i = root[i] = root[root[i]];
    return i;
}

void resize_unite(int *root, int a, int b)
{
    a = resize_root(root, a);
    b = resize_root(root, b);
    if (a < b)
        root[b] = a;
    else
        root[a] = b;
}

/* Where two colours cross at a corner: which hangs together, by the sixteen squares round about. */
static int crossing(const struct resize_shape *shape, const uint8_t *cell, int c, int r)
{
    uint8_t a = cell[resize_square(shape, c, r)], b = cell[resize_square(shape, c + 1, r)];
    int of_a = 0, of_b = 0;

    for (int up = -1; up <= 2; up++)
        for (int side = -1; side <= 2; side++) {
            int at = resize_square(shape, c + side, r + up);

            of_a += at >= 0 && cell[at] == a;
            of_b += at >= 0 && cell[at] == b;
        }
    return (of_a <= of_b ? 1 : 0) | (of_b <= of_a ? 2 : 0);
}

int resize_corner(const struct resize_shape *shape, const uint8_t *cell, int c, int r)
{
    int left = c + 1 < shape->ncols ? c + 1 : 0, up = r + 1 < shape->nrows ? r + 1 : 0;
    uint8_t here = cell[r * shape->ncols + c], beside = cell[r * shape->ncols + left];
    uint8_t above = cell[up * shape->ncols + c], corner = cell[up * shape->ncols + left];
    int found = resize_slants(here, beside, above, corner);

    if (up == 0 && !shape->ring)
        return 0;
    return found == 3 ? crossing(shape, cell, c, r) : found;
}

bool resize_hangs(const struct resize_shape *shape, const uint8_t *cell, int c, int r, int side, int up)
{
    if (side == 0 || up == 0)
        return true;
    c = resize_wrap(side < 0 ? c - 1 : c, shape->ncols);
    r = resize_wrap(up < 0 ? r - 1 : r, shape->nrows);
    return (resize_corner(shape, cell, c, r) & (side == up ? 1 : 2)) != 0;
}

int resize_hanging(const struct resize_shape *shape, const uint8_t *cell, int at, int *list)
{
    int ncols = shape->ncols, nrows = shape->nrows, c = at % ncols, r = at / ncols, n = 0;
    const int col[3] = {c > 0 ? c - 1 : ncols - 1, c, c + 1 < ncols ? c + 1 : 0};
    const int row[3] = {(r > 0 ? r - 1 : nrows - 1) * ncols, r * ncols, (r + 1 < nrows ? r + 1 : 0) * ncols};
    int first = shape->ring || r > 0 ? 0 : 1, last = shape->ring || r + 1 < nrows ? 2 : 1;

    for (int up = first; up <= last; up++)
        for (int side = 0; side < 3; side++) {
            int to = row[up] + col[side];

            if (cell[to] != cell[at] || (up == 1 && side == 1))
                continue;
            if (up == 1 || side == 1 ||
                (cell[row[1] + col[side]] != cell[at] && cell[row[up] + c] != cell[at] &&
                 resize_hangs(shape, cell, c, r, side - 1, up - 1)))
                list[n++] = to;
        }
    return n;
}

struct resize_parts resize_parts_make(struct arena *arena, const struct resize_shape *shape)
{
    size_t n = (size_t)shape->ncols * (size_t)shape->nrows;

    return (struct resize_parts){.part = arena_alloc(arena, n, sizeof(int)),
                                 .head = arena_alloc(arena, n, sizeof(int)),
                                 .next = arena_alloc(arena, n, sizeof(int)),
                                 .root = arena_alloc(arena, n, sizeof(int))};
}

/* A square with those above, and the last of a row with the first; what the square on its right has done already is
 * left out. */
static void hang_square(int *root, const struct resize_shape *shape, const uint8_t *cell, int c, int r)
{
    int left = c + 1 < shape->ncols ? c + 1 : 0, up = r + 1 < shape->nrows ? r + 1 : 0;
    int here = r * shape->ncols + c, beside = r * shape->ncols + left;
    int above = up * shape->ncols + c, corner = up * shape->ncols + left, hung;

    if (left == 0 && cell[here] == cell[beside])
        resize_unite(root, here, beside);
    if (up == 0 && !shape->ring)
        return;
    if (cell[here] == cell[above] &&
        !(c > 0 && cell[here - 1] == cell[here] && cell[above - 1] == cell[here]))
        resize_unite(root, here, above);
    if (cell[here] == cell[beside] || cell[here] == cell[above])
        return;
    hung = resize_corner(shape, cell, c, r);
    if (hung & 1)
        resize_unite(root, here, corner);
    if (hung & 2)
        resize_unite(root, beside, above);
}

void resize_parts_find(struct resize_parts *parts, const struct resize_shape *shape, const uint8_t *cell)
{
    int n = shape->ncols * shape->nrows;

    for (int i = 0; i < n; i++)
        parts->root[i] = i % shape->ncols > 0 && cell[i] == cell[i - 1] ? parts->root[i - 1] : i;
    for (int r = 0; r < shape->nrows; r++)
        for (int c = 0; c < shape->ncols; c++)
            hang_square(parts->root, shape, cell, c, r);
    parts->nparts = 0;
    for (int i = 0; i < n; i++) { /* a root is the first of its part */
        int root = resize_root(parts->root, i), part = root == i ? parts->nparts++ : parts->part[root];

        parts->part[i] = part;
        parts->next[i] = root == i ? -1 : parts->head[part];
        parts->head[part] = i;
    }
}
