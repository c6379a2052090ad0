/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Runs of colour that the old rows and columns have and no new one near them has: two lines side by
 * side that have become one, though neither has a gap.
 */
#include <string.h>

#include "resize_internal.h"

struct resize_runs {
    const struct resize_frame *frame;
    int *row, *column;       /* runs of each new one */
    int *was_row, *was_column; /* before the change being tried; -1: not touched by it */
};

static int runs_of(const uint8_t *cell, int n, int step, bool ring)
{
    int runs = ring ? cell[0] != cell[(n - 1) * step] : 1;

    for (int i = 1; i < n; i++)
        runs += cell[i * step] != cell[(i - 1) * step];
    return runs;
}

static int row_runs(const struct resize_frame *frame, const uint8_t *cell, int row)
{
    return runs_of(cell + (size_t)row * (size_t)frame->ncols, frame->ncols, 1, true);
}

static int column_runs(const struct resize_frame *frame, const uint8_t *cell, int column)
{
    return runs_of(cell + column, frame->nrows, frame->ncols, frame->ring);
}

void resize_runs_old(struct resize_frame *frame)
{
    const struct grid *old = &frame->old;

    frame->row_runs = arena_alloc(frame->work->arena, (size_t)old->nrows, sizeof *frame->row_runs);
    frame->column_runs = arena_alloc(frame->work->arena, (size_t)old->ncols, sizeof *frame->column_runs);
    for (int r = 0; r < old->nrows; r++)
        frame->row_runs[r] = runs_of(old->cell + (size_t)r * (size_t)old->ncols, old->ncols, 1, true);
    for (int c = 0; c < old->ncols; c++)
        frame->column_runs[c] = runs_of(old->cell + c, old->nrows, old->ncols, frame->ring);
}

/* Of old row or column `number`: what the new ones over it, and one on either side, lack of its runs. */
static int missing(const struct resize_axis *axis, const int *runs, bool ring, int number, int old_runs)
{
    int most = 0;

    for (int i = axis->new_first[number] - 1; i <= axis->new_first[number] + axis->new_count[number]; i++) {
        int at = ring ? (i % axis->nnew + axis->nnew) % axis->nnew : i;

        if (at >= 0 && at < axis->nnew && runs[at] > most)
            most = runs[at];
    }
    return most < old_runs ? old_runs - most : 0;
}

static int missing_all(const struct resize_runs *runs)
{
    const struct resize_frame *frame = runs->frame;
    int all = 0;

    for (int r = 0; r < frame->old.nrows; r++)
        all += missing(&frame->y, runs->row, frame->ring, r, frame->row_runs[r]);
    for (int c = 0; c < frame->old.ncols; c++)
        all += missing(&frame->x, runs->column, true, c, frame->column_runs[c]);
    return all;
}

struct resize_runs *resize_runs_make(const struct resize_frame *frame)
{
    struct arena *arena = frame->work->arena;
    struct resize_runs *runs = arena_alloc(arena, 1, sizeof *runs);
    size_t nrows = (size_t)frame->nrows, ncols = (size_t)frame->ncols;

    runs->frame = frame;
    runs->row = arena_alloc(arena, nrows, sizeof *runs->row);
    runs->column = arena_alloc(arena, ncols, sizeof *runs->column);
    runs->was_row = arena_alloc(arena, nrows, sizeof *runs->was_row);
    runs->was_column = arena_alloc(arena, ncols, sizeof *runs->was_column);
    memset(runs->was_row, -1, nrows * sizeof *runs->was_row);
    memset(runs->was_column, -1, ncols * sizeof *runs->was_column);
    return runs;
}

int resize_runs_judge(struct resize_runs *runs, const uint8_t *cell)
{
    for (int r = 0; r < runs->frame->nrows; r++)
        runs->row[r] = row_runs(runs->frame, cell, r);
    for (int c = 0; c < runs->frame->ncols; c++)
        runs->column[c] = column_runs(runs->frame, cell, c);
    return missing_all(runs);
}

int resize_runs_change(struct resize_runs *runs, const uint8_t *cell, const int *changed, int nchanged, int before)
{
    const struct resize_frame *frame = runs->frame;
    bool other = false;

    for (int i = 0; i < nchanged; i++) {
        int r = changed[i] / frame->ncols, c = changed[i] % frame->ncols;

        if (runs->was_row[r] < 0) {
            runs->was_row[r] = runs->row[r];
            runs->row[r] = row_runs(frame, cell, r);
            other = other || runs->row[r] != runs->was_row[r];
        }
        if (runs->was_column[c] < 0) {
            runs->was_column[c] = runs->column[c];
            runs->column[c] = column_runs(frame, cell, c);
            other = other || runs->column[c] != runs->was_column[c];
        }
    }
    return other ? missing_all(runs) : before;
}

void resize_runs_settle(struct resize_runs *runs, const int *changed, int nchanged, bool keep)
{
    for (int i = 0; i < nchanged; i++) {
        int r = changed[i] / runs->frame->ncols, c = changed[i] % runs->frame->ncols;

        if (!keep && runs->was_row[r] >= 0)
            runs->row[r] = runs->was_row[r];
        if (!keep && runs->was_column[c] >= 0)
            runs->column[c] = runs->was_column[c];
        runs->was_row[r] = runs->was_column[c] = -1;
    }
}
