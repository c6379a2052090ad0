/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "centre.h"

#include <stdlib.h>

#include "base/arena.h"
#include "base/work.h"
#include "model/catches/floats.h"

static int ring(int column, int ncols)
{
    int c = column % ncols;

    return c < 0 ? c + ncols : c;
}

static uint8_t ring_at(const struct grid *grid, int row, int column)
{
    return grid_at(grid, row, ring(column, grid->ncols));
}

/* The row's stitches from column `start` on, round. Returned: how many. */
static int read_row(const struct grid *grid, int row, int start, uint8_t *yarn_of)
{
    int n = 0;

    for (int i = 0; i < grid->ncols; i++) {
        uint8_t yarn = ring_at(grid, row, start + i);

        if (yarn != GRID_NO_STITCH)
            yarn_of[n++] = yarn;
    }
    return n;
}

/* Stitches behind the last of each yarn, or before the first; -1: not in the row. */
static void ends_of(const uint8_t *yarn_of, int n, bool last, int *ends)
{
    for (int yarn = 0; yarn < GRID_YARNS_MAX; yarn++)
        ends[yarn] = -1;
    for (int i = 0; i < n; i++) {
        int yarn = yarn_of[last ? n - 1 - i : i];

        if (ends[yarn] < 0)
            ends[yarn] = i;
    }
}

static void meet_rows(const uint8_t *row, int n, const uint8_t *next, int next_n, int number,
                      struct centre_start *at)
{
    int after[GRID_YARNS_MAX], before[GRID_YARNS_MAX];

    if (n == 0 || next_n == 0)
        return;
    at->jog_rows += row[n - 1] != next[next_n - 1];
    ends_of(row, n, true, after);
    ends_of(next, next_n, false, before);
    for (int yarn = 0; yarn < GRID_YARNS_MAX; yarn++) {
        if (after[yarn] < 0 || before[yarn] < 0 || after[yarn] + before[yarn] <= at->strand_sts)
            continue;
        at->strand_sts = after[yarn] + before[yarn];
        at->strand_row = number;
        at->strand_yarn = yarn;
    }
}

struct centre_start centre_start_at(struct work *work, const struct grid *grid, int upwards, int start)
{
    struct arena *scratch = arena_branch(work->arena);
    uint8_t *row = arena_alloc(scratch, (size_t)grid->ncols, 1);
    uint8_t *next = arena_alloc(scratch, (size_t)grid->ncols, 1);
    struct centre_start at = {.start = start, .strand_row = -1, .strand_yarn = -1};
    int before_last = 0;
    int rows = upwards > 1 ? grid->nrows : grid->nrows - 1;

    for (int r = 0; r < rows; r++) {
        int n = read_row(grid, r, start, row);
        int next_n = read_row(grid, (r + 1) % grid->nrows, start, next);

        before_last = at.jog_rows;
        meet_rows(row, n, next, next_n, r, &at);
    }
    at.jog_rows_all = upwards > 1 ? (upwards - 1) * at.jog_rows + before_last : at.jog_rows;
    arena_destroy(scratch);
    return at;
}

void centre_joins(struct work *work, const struct grid *grid, struct centre_join *join)
{
    struct arena *scratch = arena_branch(work->arena);
    size_t ncols = (size_t)grid->ncols;
    uint8_t *yarn_of = arena_alloc(scratch, ncols, 1);
    int *column = arena_alloc(scratch, ncols, sizeof *column);
    int *longest = arena_alloc(scratch, ncols, sizeof *longest);
    struct float_run *runs = arena_alloc(scratch, ncols + 2 * GRID_YARNS_MAX, sizeof *runs);

    for (int c = 0; c < grid->ncols; c++)
        join[c] = (struct centre_join){0, 0};
    for (int r = 0; r < grid->nrows; r++) {
        int n = floats_row_columns(grid->cell + (size_t)r * ncols, grid->ncols, column);
        int nruns = 0;

        for (int c = 0; c < grid->ncols; c++)
            longest[c] = 0;
        for (int i = 0; i < n; i++)
            yarn_of[i] = ring_at(grid, r, column[i]);
        nruns = n > 0 ? floats_of_row(yarn_of, n, FLOATS_RING, runs) : 0;
        for (int i = 0; i < nruns; i++) /* between its p-th stitch and the next */
            for (int p = 1; p < runs[i].span_sts; p++) {
                int left = column[(runs[i].from + p + 1) % n];

                if (runs[i].span_sts > longest[left])
                    longest[left] = runs[i].span_sts;
            }
        for (int c = 0; c < grid->ncols; c++) {
            join[c].rows += longest[c] > 0;
            if (longest[c] > join[c].longest_sts)
                join[c].longest_sts = longest[c];
        }
    }
    arena_destroy(scratch);
}

static bool is_better(const struct centre_join *a, int a_off, const struct centre_join *b, int b_off)
{
    if (a->rows != b->rows)
        return a->rows < b->rows;
    if (a->longest_sts != b->longest_sts)
        return a->longest_sts < b->longest_sts;
    return a_off < b_off;
}

struct centre_join centre_needles(const struct centre_join *join, int ncols, int stitches, int needles,
                                  int first, int reach, int *needle_sts)
{
    struct centre_join all = {0, 0};
    int before = 0;

    for (int k = 1; k < needles; k++) {
        int equal = (int)((2 * (int64_t)k * stitches + needles) / (2 * needles));
        int best = equal;

        for (int place = equal - reach; place <= equal + reach; place++)
            if (place > before && place < stitches &&
                is_better(&join[ring(first + place, ncols)], abs(place - equal),
                          &join[ring(first + best, ncols)], abs(best - equal)))
                best = place;
        needle_sts[k - 1] = best - before;
        before = best;
        all.rows += join[ring(first + best, ncols)].rows;
        if (join[ring(first + best, ncols)].longest_sts > all.longest_sts)
            all.longest_sts = join[ring(first + best, ncols)].longest_sts;
    }
    needle_sts[needles - 1] = stitches - before;
    return all;
}
