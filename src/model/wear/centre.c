/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "centre.h"

#include <stdlib.h>
#include <string.h>

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

/* Stitches from each place on to the next of that yarn; back: to the last before it. The yarn is in the row. */
static void ways_to(const uint8_t *cells, int ncols, uint8_t yarn, bool back, int *way)
{
    int sts = 0;

    for (int i = 0; i < 2 * ncols; i++) { /* once round to meet it first */
        uint8_t here = cells[back ? i % ncols : ncols - 1 - i % ncols];

        sts = here == yarn ? 0 : sts + (here != GRID_NO_STITCH);
        way[back ? (i + 1) % ncols : ncols - 1 - i % ncols] = sts;
    }
}

/* The stitch before each place; GRID_NO_STITCH: there is none in the row. */
static void last_stitches(const uint8_t *cells, int ncols, uint8_t *last)
{
    uint8_t yarn = GRID_NO_STITCH;

    for (int i = 0; i < 2 * ncols; i++) {
        yarn = cells[i % ncols] != GRID_NO_STITCH ? cells[i % ncols] : yarn;
        last[(i + 1) % ncols] = yarn;
    }
}

/* way[2 * ncols] */
static void meet_rows(const uint8_t *row, const uint8_t *next, int ncols, int number, int *way,
                      struct centre_start *at)
{
    for (int yarn = 0; yarn < GRID_YARNS_MAX; yarn++) {
        if (!memchr(row, yarn, (size_t)ncols) || !memchr(next, yarn, (size_t)ncols))
            continue;
        ways_to(row, ncols, (uint8_t)yarn, true, way);
        ways_to(next, ncols, (uint8_t)yarn, false, way + ncols);
        for (int start = 0; start < ncols; start++) {
            int strand = way[start] + way[ncols + start];

            if (strand <= at[start].strand_sts)
                continue;
            at[start].strand_sts = strand;
            at[start].strand_row = number;
            at[start].strand_yarn = yarn;
        }
    }
}

void centre_starts(struct work *work, const struct grid *grid, int upwards, struct centre_start *at)
{
    struct arena *scratch = arena_branch(work->arena);
    size_t ncols = (size_t)grid->ncols;
    uint8_t *last = arena_alloc(scratch, 2 * ncols, 1), *next_last = last + ncols;
    int *way = arena_alloc(scratch, 2 * ncols, sizeof *way);
    int rows = upwards > 1 ? grid->nrows : grid->nrows - 1;

    for (int start = 0; start < grid->ncols; start++)
        at[start] = (struct centre_start){.start = start, .strand_row = -1, .strand_yarn = -1};
    for (int r = 0; r < rows; r++) {
        const uint8_t *row = grid->cell + (size_t)r * ncols;
        const uint8_t *next = grid->cell + (size_t)((r + 1) % grid->nrows) * ncols;

        last_stitches(row, grid->ncols, last);
        last_stitches(next, grid->ncols, next_last);
        for (int start = 0; start < grid->ncols; start++) {
            at[start].jog_rows_all = at[start].jog_rows; /* so far: without the last seam */
            at[start].jog_rows += last[start] != next_last[start] && last[start] != GRID_NO_STITCH &&
                                  next_last[start] != GRID_NO_STITCH;
        }
        meet_rows(row, next, grid->ncols, r, way, at);
    }
    for (int start = 0; start < grid->ncols; start++)
        at[start].jog_rows_all =
            upwards > 1 ? (upwards - 1) * at[start].jog_rows + at[start].jog_rows_all : at[start].jog_rows;
    arena_destroy(scratch);
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
