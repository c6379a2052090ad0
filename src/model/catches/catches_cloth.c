/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "catches_cloth.h"

#include <string.h>

#include "base/arena.h"

static int side_cols(const struct grid *side)
{
    return side ? side->ncols : 0;
}

static int repeats_cols(const struct catch_cloth *cloth)
{
    return cloth->repeats * cloth->repeat->ncols;
}

int cloth_ncols(const struct catch_cloth *cloth)
{
    return side_cols(cloth->right) + repeats_cols(cloth) + side_cols(cloth->left);
}

int cloth_nyarns(const struct catch_cloth *cloth)
{
    const struct grid *parts[] = {cloth->right, cloth->repeat, cloth->left};
    bool seen[256] = {false};
    int nyarns = 0;

    for (int part = 0; part < 3; part++) {
        int64_t ncells = (int64_t)cloth->repeat->nrows * side_cols(parts[part]);

        for (int64_t i = 0; i < ncells; i++)
            seen[parts[part]->cell[i]] = true;
    }
    for (int yarn = 0; yarn < GRID_YARNS_MAX; yarn++)
        nyarns += seen[yarn];
    return nyarns;
}

struct cloth_row cloth_row_room(struct arena *arena, const struct catch_cloth *cloth)
{
    size_t ncols = (size_t)cloth_ncols(cloth);
    struct cloth_row row = {.nstitches = 0};

    row.cells = arena_alloc(arena, ncols, 1);
    row.yarn_of = arena_alloc(arena, ncols, 1);
    row.column = arena_alloc(arena, 2 * ncols, sizeof *row.column);
    return row;
}

static uint8_t *copy_cells(const struct grid *grid, int r, uint8_t *to)
{
    size_t ncols = (size_t)side_cols(grid);

    if (ncols > 0)
        memcpy(to, grid->cell + (size_t)r * ncols, ncols);
    return to + ncols;
}

void cloth_row_read(const struct catch_cloth *cloth, int r, struct cloth_row *row)
{
    uint8_t *to = copy_cells(cloth->right, r, row->cells);

    for (int i = 0; i < cloth->repeats; i++)
        to = copy_cells(cloth->repeat, r, to);
    copy_cells(cloth->left, r, to);

    row->nstitches = floats_row_columns(row->cells, cloth_ncols(cloth), row->column);
    for (int i = 0; i < row->nstitches; i++)
        row->yarn_of[i] = row->cells[row->column[i]];
    memcpy(row->column + row->nstitches, row->column, (size_t)row->nstitches * sizeof *row->column);
}

static bool in_repeats(const struct catch_cloth *cloth, const struct cloth_row *row, int stitch)
{
    int column;

    if (stitch < 0 || stitch >= row->nstitches)
        return false;
    column = row->column[stitch] - side_cols(cloth->right);
    return column >= 0 && column < repeats_cols(cloth);
}

bool cloth_is_copied(const struct catch_cloth *cloth, const struct cloth_row *row,
                     const struct float_run *run)
{
    return cloth->inner && in_repeats(cloth, row, run->from) &&
           in_repeats(cloth, row, run->from + run->span_sts + 1);
}

struct cloth_copies cloth_copies(struct arena *arena, const struct catch_cloth *cloth)
{
    const struct catch_map *inner = cloth->inner;
    int nrows = cloth->repeat->nrows, right_cols = side_cols(cloth->right);
    struct cloth_copies copies = {0};
    int64_t i = 0, n = 0;

    copies.start = arena_alloc(arena, (size_t)nrows + 1, sizeof *copies.start);
    if (!inner)
        return copies;
    copies.column =
        arena_alloc(arena, (size_t)inner->count * (size_t)cloth->repeats, sizeof *copies.column);
    for (int r = 0; r < nrows; r++) {
        for (; i < inner->count && inner->mark[i].row == r; i++) {
            const struct catch_mark *mark = &inner->mark[i];
            struct catch_copies of = catches_copies(cloth->repeat, mark, cloth->repeats);

            for (int copy = of.first; copy < of.first + of.count; copy++)
                copies.column[n++] = right_cols + copy * cloth->repeat->ncols + mark->column;
            copies.count_of[mark->strand] += of.count;
        }
        copies.start[r + 1] = n;
    }
    return copies;
}
