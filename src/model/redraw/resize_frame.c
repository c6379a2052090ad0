/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The old chart laid over the new squares, in whole numbers: what each colour would cost where.
 *
 * Along a direction an old square is 2 * new count long and a new one 2 * old count, so that
 * both begin and end at whole numbers, the phase included.
 */
#include <string.h>

#include "resize_internal.h"

static struct resize_axis axis_make(struct arena *arena, int nold, int nnew, int64_t phase)
{
    struct resize_axis axis = {.nold = nold, .nnew = nnew, .stride = nold / nnew + 3, .phase = phase};
    int64_t old_length = 2 * (int64_t)nnew, new_length = 2 * (int64_t)nold, all = old_length * nold;

    axis.first = arena_alloc(arena, (size_t)nnew, sizeof *axis.first);
    axis.count = arena_alloc(arena, (size_t)nnew, sizeof *axis.count);
    axis.weight = arena_alloc(arena, (size_t)nnew * (size_t)axis.stride, sizeof *axis.weight);
    axis.new_first = arena_alloc(arena, (size_t)nold, sizeof *axis.new_first);
    axis.new_count = arena_alloc(arena, (size_t)nold, sizeof *axis.new_count);
    for (int i = 0; i < nnew; i++) {
        int64_t from = ((new_length * i - phase) % all + all) % all, left = new_length;

        axis.first[i] = (int)(from / old_length);
        while (left > 0) {
            int64_t end = (from / old_length + 1) * old_length;
            int64_t part = end - from < left ? end - from : left;

            axis.weight[i * axis.stride + axis.count[i]++] = part;
            from = end;
            left -= part;
        }
    }
    for (int i = 0; i < nold; i++) {
        int64_t from = ((old_length * i + phase) % all + all) % all;
        int64_t last = (from + old_length - 1) / new_length;

        axis.new_first[i] = (int)(from / new_length);
        axis.new_count[i] = (int)(last - from / new_length) + 1;
        if (axis.new_count[i] > nnew)
            axis.new_count[i] = nnew;
    }
    return axis;
}

/* Colours from 0 in the order met. */
static void colours_count(struct resize_frame *frame)
{
    const struct grid *given = frame->question->old;
    size_t n = (size_t)given->ncols * (size_t)given->nrows;
    uint8_t *cell = arena_alloc(frame->work->arena, n, 1);
    int colour_of[GRID_YARNS_MAX];

    memset(colour_of, -1, sizeof colour_of);
    for (size_t i = 0; i < n; i++) {
        uint8_t yarn = given->cell[i];

        if (colour_of[yarn] < 0) {
            frame->yarn[frame->ncolours] = yarn;
            colour_of[yarn] = frame->ncolours++;
        }
        cell[i] = (uint8_t)colour_of[yarn];
    }
    for (int k = 0; k < frame->ncolours; k++) { /* a ground that is in no stitch stays itself */
        uint8_t under = frame->question->knitted_as[frame->yarn[k]];

        frame->knitted[k] = (uint8_t)(colour_of[under] < 0 ? k : colour_of[under]);
    }
    frame->old = (struct grid){given->nrows, given->ncols, cell};
}

/* Calls for every old square under a new one. */
#define FOR_UNDER(frame, c, r, old_c, old_r, area)                                                 \
    for (int i_ = 0, old_r = (frame)->y.first[r]; i_ < (frame)->y.count[r];                        \
         i_++, old_r = (old_r + 1) % (frame)->old.nrows)                                           \
        for (int j_ = 0, old_c = (frame)->x.first[c]; j_ < (frame)->x.count[c];                    \
             j_++, old_c = (old_c + 1) % (frame)->old.ncols)                                       \
            for (int64_t area = (frame)->x.weight[(c) * (frame)->x.stride + j_] *                  \
                                (frame)->y.weight[(r) * (frame)->y.stride + i_];                   \
                 area > 0; area = 0)

static void costs_set(struct resize_frame *frame)
{
    int k = frame->ncolours;

    frame->cost = arena_alloc(frame->work->arena, (size_t)frame->ncells * (size_t)k, sizeof *frame->cost);
    frame->best = arena_alloc(frame->work->arena, (size_t)frame->ncells, 1);
    for (int cell = 0; cell < frame->ncells; cell++) {
        int64_t *cost = frame->cost + (size_t)cell * (size_t)k;
        int c = cell % frame->ncols, r = cell / frame->ncols;

        for (int colour = 0; colour < k; colour++)
            cost[colour] = frame->square;
        FOR_UNDER(frame, c, r, old_c, old_r, area)
            cost[frame->old.cell[old_r * frame->old.ncols + old_c]] -= area;
        for (int colour = 1; colour < k; colour++)
            if (cost[colour] < cost[frame->best[cell]])
                frame->best[cell] = (uint8_t)colour;
        frame->bound += cost[frame->best[cell]];
    }
}

/* --- squares that symmetry puts together ------------------------------------------------- */

/* The move in the new chart. */
static struct symmetry move_redrawn(const struct resize_frame *frame, const struct symmetry *move,
                                      const struct motif_line *columns, const struct motif_line *rows)
{
    struct symmetry redrawn = *move;
    int64_t column = move->column, row = move->row;

    redrawn.column = (int)(move->column_is_mirrored
                               ? ((column + 1) * frame->ncols + columns->phase) / frame->old.ncols - 1
                               : column * frame->ncols / frame->old.ncols);
    redrawn.row = (int)(move->row_is_mirrored
                            ? ((row + 1) * frame->nrows + rows->phase) / frame->old.nrows - 1
                            : row * frame->nrows / frame->old.nrows);
    return redrawn;
}

static int root_of(int *root, int i)
{
    while (root[i] != i)
        i = root[i] = root[root[i]];
    return i;
}

static void orbits_join(const struct resize_frame *frame, const struct symmetry *move, int *root)
{
    for (int cell = 0; cell < frame->ncells; cell++) {
        int to = symmetry_row(move, cell / frame->ncols, frame->nrows) * frame->ncols +
                 symmetry_column(move, cell % frame->ncols, frame->ncols);
        int a = root_of(root, cell), b = root_of(root, to);

        root[a > b ? a : b] = a > b ? b : a;
    }
}

static void orbits_list(struct resize_frame *frame, int *root)
{
    struct arena *arena = frame->work->arena;
    size_t n = (size_t)frame->ncells;
    int *fill = arena_alloc(arena, n + 1, sizeof *fill);

    frame->orbit_of = arena_alloc(arena, n, sizeof *frame->orbit_of);
    frame->orbit_cell = arena_alloc(arena, n, sizeof *frame->orbit_cell);
    frame->orbit_start = arena_alloc(arena, n + 1, sizeof *frame->orbit_start);
    for (int cell = 0; cell < frame->ncells; cell++) {
        int first = root_of(root, cell);

        frame->orbit_of[cell] = first == cell ? frame->norbits++ : frame->orbit_of[first];
        frame->orbit_start[frame->orbit_of[cell] + 1]++;
    }
    for (int o = 0; o < frame->norbits; o++)
        frame->orbit_start[o + 1] += frame->orbit_start[o];
    memcpy(fill, frame->orbit_start, n * sizeof *fill);
    for (int cell = 0; cell < frame->ncells; cell++)
        frame->orbit_cell[fill[frame->orbit_of[cell]]++] = cell;
}

static void rows_join(const struct resize_frame *frame, const struct symmetry *move, int *root)
{
    for (int r = 0; r < frame->nrows; r++) {
        int a = root_of(root, r), b = root_of(root, symmetry_row(move, r, frame->nrows));

        root[a > b ? a : b] = a > b ? b : a;
    }
}

static void orbits_set(struct resize_frame *frame, const struct motif *motif,
                       const struct motif_line *columns, const struct motif_line *rows, const bool *keeps)
{
    int *root = arena_alloc(frame->work->arena, (size_t)frame->ncells, sizeof *root);
    int *row_root = arena_alloc(frame->work->arena, (size_t)frame->nrows, sizeof *row_root);

    for (int cell = 0; cell < frame->ncells; cell++)
        root[cell] = cell;
    for (int r = 0; r < frame->nrows; r++)
        row_root[r] = r;
    for (int i = 0; i < motif->nmoves; i++)
        if (keeps[i]) {
            struct symmetry move = move_redrawn(frame, &motif->move[i], columns, rows);

            orbits_join(frame, &move, root);
            rows_join(frame, &move, row_root);
        }
    orbits_list(frame, root);
    frame->row_times = arena_alloc(frame->work->arena, (size_t)frame->nrows, sizeof *frame->row_times);
    for (int r = 0; r < frame->nrows; r++)
        frame->row_times[root_of(row_root, r)]++;
}

/* --- parts of the old chart --------------------------------------------------------------- */

static void under_add(struct resize_frame *frame, int from, int *n, int part, int64_t area)
{
    for (int i = from; i < *n; i++)
        if (frame->under[i].part == part) {
            frame->under[i].area += area;
            return;
        }
    frame->under[(*n)++] = (struct resize_under){part, area};
}

static void under_set(struct resize_frame *frame, const struct resize_parts *parts)
{
    int k = frame->ncolours, n = 0;
    size_t room = 0;

    for (int cell = 0; cell < frame->ncells; cell++)
        room += (size_t)frame->x.count[cell % frame->ncols] * (size_t)frame->y.count[cell / frame->ncols];
    frame->under = arena_alloc(frame->work->arena, room, sizeof *frame->under);
    frame->under_start = arena_alloc(frame->work->arena, (size_t)frame->ncells * (size_t)k + 1,
                                     sizeof *frame->under_start);
    for (int cell = 0; cell < frame->ncells; cell++)
        for (int colour = 0; colour < k; colour++) {
            int c = cell % frame->ncols, r = cell / frame->ncols, from = n;

            frame->under_start[cell * k + colour] = from;
            FOR_UNDER(frame, c, r, old_c, old_r, area)
                if (frame->old.cell[old_r * frame->old.ncols + old_c] == colour)
                    under_add(frame, from, &n, parts->part[old_r * frame->old.ncols + old_c], area);
        }
    frame->under_start[frame->ncells * k] = n;
    frame->nparts = parts->nparts;
    frame->old_part = parts->part;
}

/* --- floats ------------------------------------------------------------------------------ */

void resize_row_over(const struct resize_frame *frame, const uint8_t *row, int ncols, int leave_sts,
                     int *over)
{
    int first[GRID_YARNS_MAX], last[GRID_YARNS_MAX];

    for (int k = 0; k < frame->ncolours; k++) {
        over[k] = 0;
        first[k] = -1;
        last[k] = -1;
    }
    for (int c = 0; c < ncols; c++) {
        int k = frame->knitted[row[c]];

        if (first[k] < 0)
            first[k] = c;
        else
            over[k] += c - last[k] - 1 > leave_sts;
        last[k] = c;
    }
    for (int k = 0; k < frame->ncolours; k++)
        if (first[k] >= 0)
            over[k] += first[k] + ncols - last[k] - 1 > leave_sts;
}

static void allowed_set(struct resize_frame *frame)
{
    int k = frame->ncolours, old_ncols = frame->old.ncols;
    int over[GRID_YARNS_MAX];

    frame->allowed_over = arena_alloc(frame->work->arena, (size_t)frame->nrows * (size_t)k, sizeof(int));
    for (int r = 0; r < frame->nrows; r++)
        for (int i = 0; i < frame->y.count[r]; i++) {
            int old_r = (frame->y.first[r] + i) % frame->old.nrows;

            resize_row_over(frame, frame->old.cell + (size_t)old_r * (size_t)old_ncols, old_ncols,
                            frame->question->old_leave_sts, over);
            for (int colour = 0; colour < k; colour++)
                if (over[colour] > frame->allowed_over[r * k + colour])
                    frame->allowed_over[r * k + colour] = over[colour];
        }
}

struct resize_frame *resize_frame_make(struct work *work, const struct resize_question *question,
                                       const struct motif *motif, const struct motif_line *columns,
                                       const struct motif_line *rows, const bool *keeps)
{
    struct resize_frame *frame = arena_alloc(work->arena, 1, sizeof *frame);
    const struct grid *old = question->old;
    struct resize_parts parts = resize_parts_make(work->arena, old->ncols, old->nrows,
                                                  question->rows_are_ring);

    *frame = (struct resize_frame){.work = work,
                                   .question = question,
                                   .ncols = question->ncols,
                                   .nrows = question->nrows,
                                   .ncells = question->ncols * question->nrows,
                                   .ring = question->rows_are_ring,
                                   .square = (int64_t)4 * old->ncols * old->nrows};
    colours_count(frame);
    frame->x = axis_make(work->arena, old->ncols, question->ncols, columns->phase);
    frame->y = axis_make(work->arena, old->nrows, question->nrows, rows->phase);
    costs_set(frame);
    orbits_set(frame, motif, columns, rows, keeps);
    resize_parts_find(&parts, frame->old.cell);
    under_set(frame, &parts);
    resize_links_set(frame, &parts, motif, keeps);
    resize_even_set(frame);
    resize_runs_old(frame);
    resize_own_set(frame);
    allowed_set(frame);
    return frame;
}
