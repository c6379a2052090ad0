/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "floats.h"

#include <string.h>

#include "base/arena.h"
#include "base/work.h"

int floats_row_columns(const uint8_t *cells, int ncols, int *column)
{
    int nstitches = 0;

    for (int c = 0; c < ncols; c++) {
        column[nstitches] = c;
        nstitches += cells[c] != GRID_NO_STITCH;
    }
    return nstitches;
}

/* The row is read from the left, so that each stitch's next use of its yarn is known when it
 * is reached; the runs fill the room from its end and are moved down once. A float over the
 * join is met first, when its far end is not yet known: its place is kept in `open`. */
int floats_of_row(const uint8_t *yarn_of, int nstitches, enum float_ends ends,
                  struct float_run *runs)
{
    const int room = nstitches + 2 * GRID_YARNS_MAX;
    int next[GRID_YARNS_MAX];
    int open[GRID_YARNS_MAX];
    int at = room;

    for (int yarn = 0; yarn < GRID_YARNS_MAX; yarn++)
        next[yarn] = open[yarn] = -1;
    for (int i = nstitches - 1; i >= 0; i--) {
        uint8_t yarn = yarn_of[i];

        if (next[yarn] >= 0) {
            if (next[yarn] > i + 1)
                runs[--at] = (struct float_run){i, next[yarn] - i - 1, yarn};
        } else if (ends == FLOATS_RING && (i < nstitches - 1 || yarn_of[0] != yarn)) {
            open[yarn] = --at;
            runs[at] = (struct float_run){i, nstitches - 1 - i, yarn};
        } else if (ends == FLOATS_ANCHOR && i < nstitches - 1) {
            runs[--at] = (struct float_run){i, nstitches - 1 - i, yarn};
        }
        next[yarn] = i;
    }
    for (int yarn = GRID_YARNS_MAX - 1; yarn >= 0; yarn--) {
        if (open[yarn] >= 0)
            runs[open[yarn]].span_sts += next[yarn];
        if (ends == FLOATS_ANCHOR && next[yarn] > 0)
            runs[--at] = (struct float_run){-1, next[yarn], (uint8_t)yarn};
    }
    memmove(runs, runs + at, (size_t)(room - at) * sizeof *runs);
    return room - at;
}

int floats_fewest_catches(int span_sts, int leave_sts)
{
    return span_sts <= leave_sts ? 0 : span_sts / (leave_sts + 1);
}

void floats_tally_row(const uint8_t *yarn_of, int nstitches, const struct float_run *runs,
                      int nruns, int row, int leave_sts, struct float_tally *tally,
                      int64_t *histogram, int histogram_limit)
{
    for (int i = 0; i < nstitches; i++)
        tally[yarn_of[i]].stitches++;
    for (int i = 0; i < nruns; i++) {
        struct float_tally *of = &tally[runs[i].yarn];
        int span_sts = runs[i].span_sts;

        of->floats++;
        of->float_stitches += span_sts;
        if (span_sts > leave_sts) {
            of->over_limit++;
            of->catches_fewest += floats_fewest_catches(span_sts, leave_sts);
        }
        if (span_sts > of->longest_sts) {
            of->longest_sts = span_sts;
            of->longest_row = row;
        }
        if (histogram) {
            int bin = span_sts < histogram_limit ? span_sts : histogram_limit;

            histogram[(int64_t)runs[i].yarn * (histogram_limit + 1) + bin]++;
        }
    }
    for (int yarn = 0; yarn < GRID_YARNS_MAX; yarn++)
        if (tally[yarn].longest_sts == 0)
            tally[yarn].longest_row = -1;
}

/* What a row leaves of each yarn at the start of the round. */
struct start_ends {
    int before[GRID_YARNS_MAX]; /* stitches before its first use; -1: not in the row */
    int after[GRID_YARNS_MAX];  /* stitches after its last use */
};

static void start_ends_of_row(const uint8_t *yarn_of, int nstitches, const struct float_run *runs,
                              int nruns, struct start_ends *row)
{
    for (int yarn = 0; yarn < GRID_YARNS_MAX; yarn++)
        row->before[yarn] = -1;
    if (nstitches == 0)
        return;
    for (int i = 0; i < nruns; i++) {
        int end = runs[i].from + runs[i].span_sts + 1;

        if (end >= nstitches) {
            row->before[runs[i].yarn] = end - nstitches;
            row->after[runs[i].yarn] = nstitches - 1 - runs[i].from;
        }
    }
    /* The one yarn that may have no float over the join, being on both sides of it. */
    if (yarn_of[0] == yarn_of[nstitches - 1])
        row->before[yarn_of[0]] = row->after[yarn_of[0]] = 0;
}

static void start_join_rows(const struct start_ends *row, const struct start_ends *above,
                            struct float_tally *tally)
{
    for (int yarn = 0; yarn < GRID_YARNS_MAX; yarn++) {
        int span_sts;

        if (row->before[yarn] < 0 || above->before[yarn] < 0)
            continue;
        span_sts = row->after[yarn] + above->before[yarn];
        if (span_sts > tally[yarn].start_longest_sts)
            tally[yarn].start_longest_sts = span_sts;
    }
}

void floats_tally_ring(struct work *work, const struct grid *grid, int leave_sts, int upwards,
                       struct float_tally *tally, int64_t *histogram, int histogram_limit)
{
    size_t ncols = (size_t)grid->ncols;
    int *column = arena_alloc(work->arena, ncols, sizeof *column);
    uint8_t *yarn_of = arena_alloc(work->arena, ncols, 1);
    struct float_run *runs = arena_alloc(work->arena, ncols + 2 * GRID_YARNS_MAX, sizeof *runs);
    struct start_ends first = {0}, row[2];

    memset(tally, 0, GRID_YARNS_MAX * sizeof *tally);
    for (int yarn = 0; yarn < GRID_YARNS_MAX; yarn++)
        tally[yarn].longest_row = -1;
    for (int r = 0; r < grid->nrows; r++) {
        const uint8_t *cells = grid->cell + (size_t)r * ncols;
        int nstitches = floats_row_columns(cells, grid->ncols, column);
        int nruns;

        for (int i = 0; i < nstitches; i++)
            yarn_of[i] = cells[column[i]];
        nruns = floats_of_row(yarn_of, nstitches, FLOATS_RING, runs);
        floats_tally_row(yarn_of, nstitches, runs, nruns, r, leave_sts, tally, histogram,
                         histogram_limit);
        start_ends_of_row(yarn_of, nstitches, runs, nruns, &row[r % 2]);
        if (r == 0)
            first = row[0];
        else
            start_join_rows(&row[(r + 1) % 2], &row[r % 2], tally);
    }
    if (upwards > 1 && grid->nrows > 0)
        start_join_rows(&row[(grid->nrows + 1) % 2], &first, tally);
}
