/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "resize_ends.h"

#include "base/arena.h"
#include "base/work.h"
#include "resize_internal.h"

/* Others of its part that a stitch hangs together with. */
static int neighbours(const struct resize_parts *parts, int column, int row)
{
    int ncols = parts->grid.ncols, nrows = parts->grid.nrows, count = 0;

    for (int up = -1; up <= 1; up++)
        for (int side = -1; side <= 1; side++) {
            int r = row + up, c = (column + side + ncols) % ncols;

            if (!parts->ring && (r < 0 || r >= nrows))
                continue;
            r = (r + nrows) % nrows;
            count += (r != row || c != column) && parts->part[r * ncols + c] == parts->part[row * ncols + column] &&
                     resize_parts_touch(parts, column, row, c, r);
        }
    return count;
}

static struct resize_parts parts_of(struct work *work, const struct grid *grid, bool ring)
{
    struct resize_parts parts = resize_parts_make(work->arena, grid->ncols, grid->nrows, ring);

    resize_parts_find(&parts, grid->cell);
    return parts;
}

/* The old column (row) under the middle of a new one; aside: -1 and 1 at its first and last edge. */
static int under(const struct motif_line *line, int old_count, int number, int aside)
{
    int64_t old_length = 2 * (int64_t)line->count, length = 2 * (int64_t)old_count, all = old_length * old_count;
    int64_t at = length * number - line->phase + (aside < 0 ? 0 : aside == 0 ? old_count : length - 1);

    return (int)((at % all + all) % all / old_length);
}

/* By new part: the old part it comes from; -1: none of its colour lies under it. Under the middles first. */
static void owners_find(const struct resize_parts *old, const struct resize_parts *new,
                        const struct motif_line *columns, const struct motif_line *rows, int *owner)
{
    static const int aside[] = {0, -1, 1};
    int ncols = new->grid.ncols, n = ncols * new->grid.nrows;

    for (int i = 0; i < new->nparts; i++)
        owner[i] = -1;
    for (int way = 0; way < 9; way++)
        for (int i = 0; i < n; i++) {
            int r = under(rows, old->grid.nrows, i / ncols, aside[way / 3]);
            int at = r * old->grid.ncols + under(columns, old->grid.ncols, i % ncols, aside[way % 3]);

            if (owner[new->part[i]] < 0 && old->grid.cell[at] == new->grid.cell[i])
                owner[new->part[i]] = old->part[at];
        }
}

struct resize_ends resize_ends_lost(struct work *work, const struct resize_question *question,
                                    const struct grid *chart, const struct motif_line *columns,
                                    const struct motif_line *rows)
{
    const struct grid *grid = question->old;
    struct resize_parts old = parts_of(work, grid, question->rows_are_ring);
    struct resize_parts new = parts_of(work, chart, question->rows_are_ring);
    uint8_t ground = symmetry_ground(grid);
    int *owner = arena_alloc(work->arena, (size_t)new.nparts, sizeof *owner);
    int *was = arena_alloc(work->arena, (size_t)old.nparts, sizeof *was);
    int *now = arena_alloc(work->arena, (size_t)old.nparts, sizeof *now);
    int *row = arena_alloc(work->arena, (size_t)grid->nrows, sizeof *row);
    struct resize_ends ends = {.row = row};

    owners_find(&old, &new, columns, rows, owner);
    for (int i = 0; i < grid->ncols * grid->nrows; i++)
        was[old.part[i]] += grid->cell[i] != ground && neighbours(&old, i % grid->ncols, i / grid->ncols) <= 1;
    for (int i = 0; i < chart->ncols * chart->nrows; i++) {
        int part = owner[new.part[i]], count = neighbours(&new, i % chart->ncols, i / chart->ncols);

        if (part >= 0 && count <= 1)
            now[part] += count == 0 && was[part] == 2 ? 2 : 1;
    }
    for (int i = 0; i < old.nparts; i++)
        ends.lost += was[i] > now[i] ? was[i] - now[i] : 0;
    for (int i = 0; i < grid->ncols * grid->nrows; i++)
        if (was[old.part[i]] > now[old.part[i]] && neighbours(&old, i % grid->ncols, i / grid->ncols) <= 1 &&
            (ends.nrows == 0 || row[ends.nrows - 1] != i / grid->ncols))
            row[ends.nrows++] = i / grid->ncols;
    return ends;
}
