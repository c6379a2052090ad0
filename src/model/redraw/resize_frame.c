/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The old chart laid over the new squares, in whole numbers: what each colour would cost where.
 *
 * Along a direction an old square is 2 * new count long and a new one 2 * old count, so that
 * both begin and end at whole numbers, the phase included.
 */
#include <string.h>

#include "resize_internal.h"

struct resize_span resize_span_over(int nold, int nnew, int64_t phase, struct resize_span old)
{
    int64_t from = 2 * (int64_t)nnew * old.from + phase, end = from + 2 * (int64_t)nnew * old.length;
    int first = resize_floor(from, 2 * (int64_t)nold);

    return (struct resize_span){first, resize_floor(end - 1, 2 * (int64_t)nold) - first + 1};
}

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
        struct resize_span over = resize_span_over(nold, nnew, phase, (struct resize_span){i, 1});

        axis.new_first[i] = resize_wrap(over.from, nnew);
        axis.new_count[i] = over.length < nnew ? over.length : nnew;
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

int resize_frame_under(const struct resize_frame *frame, int at, struct resize_under *under)
{
    const struct resize_axis *x = &frame->x, *y = &frame->y;
    int c = at % frame->shape.ncols, r = at / frame->shape.ncols, n = 0;

    for (int i = 0; i < y->count[r]; i++)
        for (int j = 0; j < x->count[c]; j++)
            under[n++] = (struct resize_under){resize_square(&frame->old_shape, x->first[c] + j,
                                                             (y->first[r] + i) % y->nold),
                                               x->weight[c * x->stride + j] * y->weight[r * y->stride + i]};
    return n;
}

static struct resize_under *under_room(const struct resize_frame *frame)
{
    return arena_alloc(frame->work->arena, (size_t)frame->x.stride * (size_t)frame->y.stride,
                       sizeof(struct resize_under));
}

static void costs_set(struct resize_frame *frame)
{
    int k = frame->ncolours;
    struct resize_under *under = under_room(frame);

    frame->cost = arena_alloc(frame->work->arena, (size_t)frame->ncells * (size_t)k, sizeof *frame->cost);
    frame->best = arena_alloc(frame->work->arena, (size_t)frame->ncells, 1);
    for (int at = 0; at < frame->ncells; at++) {
        int64_t *cost = frame->cost + (size_t)at * (size_t)k;
        int n = resize_frame_under(frame, at, under);

        for (int colour = 0; colour < k; colour++)
            cost[colour] = frame->square;
        for (int i = 0; i < n; i++)
            cost[frame->old.cell[under[i].which]] -= under[i].area;
        for (int colour = 1; colour < k; colour++)
            if (cost[colour] < cost[frame->best[at]])
                frame->best[at] = (uint8_t)colour;
        frame->bound += cost[frame->best[at]];
    }
}

int64_t resize_frame_area(const struct resize_frame *frame, const uint8_t *cell)
{
    int64_t area = 0;

    for (int i = 0; i < frame->ncells; i++)
        area += frame->cost[(size_t)i * (size_t)frame->ncolours + cell[i]];
    return area;
}

/* --- squares that symmetry puts together ------------------------------------------------- */

/* The move in the new chart. */
static struct symmetry move_redrawn(const struct resize_frame *frame, const struct symmetry *move,
                                      const struct motif_line *columns, const struct motif_line *rows)
{
    struct symmetry redrawn = *move;
    int64_t column = move->column, row = move->row;

    redrawn.column = (int)(move->column_is_mirrored
                               ? ((column + 1) * frame->shape.ncols + columns->phase) / frame->old.ncols - 1
                               : column * frame->shape.ncols / frame->old.ncols);
    redrawn.row = (int)(move->row_is_mirrored
                            ? ((row + 1) * frame->shape.nrows + rows->phase) / frame->old.nrows - 1
                            : row * frame->shape.nrows / frame->old.nrows);
    return redrawn;
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
        int first = resize_root(root, cell);

        frame->orbit_of[cell] = first == cell ? frame->norbits++ : frame->orbit_of[first];
        frame->orbit_start[frame->orbit_of[cell] + 1]++;
    }
    for (int o = 0; o < frame->norbits; o++)
        frame->orbit_start[o + 1] += frame->orbit_start[o];
    memcpy(fill, frame->orbit_start, n * sizeof *fill);
    for (int cell = 0; cell < frame->ncells; cell++)
        frame->orbit_cell[fill[frame->orbit_of[cell]]++] = cell;
}

static void orbits_set(struct resize_frame *frame, const struct motif *motif,
                       const struct motif_line *columns, const struct motif_line *rows, const bool *keeps)
{
    int *root = arena_alloc(frame->work->arena, (size_t)frame->ncells, sizeof *root);
    int ncols = frame->shape.ncols, nrows = frame->shape.nrows;

    for (int at = 0; at < frame->ncells; at++)
        root[at] = at;
    for (int i = 0; i < motif->nmoves; i++) {
        struct symmetry move = move_redrawn(frame, &motif->move[i], columns, rows);

        for (int at = 0; keeps[i] && at < frame->ncells; at++)
            resize_unite(root, at, symmetry_row(&move, at / ncols, nrows) * ncols +
                                       symmetry_column(&move, at % ncols, ncols));
    }
    orbits_list(frame, root);
}

/* --- parts of the old chart --------------------------------------------------------------- */

static void under_add(struct resize_frame *frame, int from, int *n, int part, int64_t area)
{
    for (int i = from; i < *n; i++)
        if (frame->under[i].which == part) {
            frame->under[i].area += area;
            return;
        }
    frame->under[(*n)++] = (struct resize_under){part, area};
}

static void under_set(struct resize_frame *frame)
{
    struct arena *arena = frame->work->arena;
    struct resize_under *under = under_room(frame);
    int k = frame->ncolours, n = 0;
    size_t room = 0;

    for (int at = 0; at < frame->ncells; at++)
        room += (size_t)frame->x.count[at % frame->shape.ncols] * (size_t)frame->y.count[at / frame->shape.ncols];
    frame->under = arena_alloc(arena, room, sizeof *frame->under);
    frame->under_start = arena_alloc(arena, (size_t)frame->ncells * (size_t)k + 1, sizeof *frame->under_start);
    for (int at = 0; at < frame->ncells; at++) {
        int nunder = resize_frame_under(frame, at, under);

        for (int colour = 0; colour < k; colour++) {
            int from = n;

            frame->under_start[at * k + colour] = from;
            for (int i = 0; i < nunder; i++)
                if (frame->old.cell[under[i].which] == colour)
                    under_add(frame, from, &n, frame->parts.part[under[i].which], under[i].area);
        }
    }
    frame->under_start[frame->ncells * k] = n;
}

/* --- floats and runs ------------------------------------------------------------------------ */

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

    frame->allowed_over = arena_alloc(frame->work->arena, (size_t)frame->shape.nrows * (size_t)k, sizeof(int));
    for (int r = 0; r < frame->shape.nrows; r++)
        for (int i = 0; i < frame->y.count[r]; i++) {
            int old_r = (frame->y.first[r] + i) % frame->old.nrows;

            resize_row_over(frame, frame->old.cell + (size_t)old_r * (size_t)old_ncols, old_ncols,
                            frame->question->old_leave_sts, over);
            for (int colour = 0; colour < k; colour++)
                if (over[colour] > frame->allowed_over[r * k + colour])
                    frame->allowed_over[r * k + colour] = over[colour];
        }
}

int resize_runs(const struct grid *grid, bool along, bool ring, int number)
{
    int length = along ? grid->ncols : grid->nrows, step = along ? 1 : grid->ncols;
    const uint8_t *cell = grid->cell + number * (along ? grid->ncols : 1);
    int runs = ring ? cell[0] != cell[(length - 1) * step] : 1;

    for (int i = 1; i < length; i++)
        runs += cell[i * step] != cell[(i - 1) * step];
    return runs;
}

int resize_runs_most(const struct resize_axis *axis, const int *runs, bool ring, int number)
{
    int most = 0;

    for (int i = axis->new_first[number] - 1; i <= axis->new_first[number] + axis->new_count[number]; i++) {
        int at = ring ? resize_wrap(i, axis->nnew) : i;

        if (at >= 0 && at < axis->nnew && runs[at] > most)
            most = runs[at];
    }
    return most;
}

static void runs_set(struct resize_frame *frame)
{
    const struct grid *old = &frame->old;

    frame->row_runs = arena_alloc(frame->work->arena, (size_t)old->nrows, sizeof *frame->row_runs);
    frame->column_runs = arena_alloc(frame->work->arena, (size_t)old->ncols, sizeof *frame->column_runs);
    for (int r = 0; r < old->nrows; r++)
        frame->row_runs[r] = resize_runs(old, true, true, r);
    for (int c = 0; c < old->ncols; c++)
        frame->column_runs[c] = resize_runs(old, false, frame->old_shape.ring, c);
}

struct resize_frame *resize_frame_make(struct work *work, const struct resize_question *question,
                                       const struct motif *motif, const struct motif_line *columns,
                                       const struct motif_line *rows, const bool *keeps)
{
    struct resize_frame *frame = arena_alloc(work->arena, 1, sizeof *frame);
    const struct grid *old = question->old;

    *frame = (struct resize_frame){.work = work,
                                   .question = question,
                                   .old_shape = {old->ncols, old->nrows, question->rows_are_ring},
                                   .shape = {question->ncols, question->nrows, question->rows_are_ring},
                                   .ncells = question->ncols * question->nrows,
                                   .square = (int64_t)4 * old->ncols * old->nrows};
    colours_count(frame);
    frame->x = axis_make(work->arena, old->ncols, question->ncols, columns->phase);
    frame->y = axis_make(work->arena, old->nrows, question->nrows, rows->phase);
    costs_set(frame);
    orbits_set(frame, motif, columns, rows, keeps);
    frame->parts = resize_parts_make(work->arena, &frame->old_shape);
    resize_parts_find(&frame->parts, &frame->old_shape, frame->old.cell);
    under_set(frame);
    resize_links_set(frame, motif, keeps);
    resize_even_set(frame);
    runs_set(frame);
    resize_own_set(frame);
    allowed_set(frame);
    return frame;
}
