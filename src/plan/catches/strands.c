/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "strands.h"

#include "base/arena.h"
#include "base/work.h"
#include "rows.h"

struct gathering {
    struct strand *strand;
    int count;
    int leave_sts;
};

/* A row of stitches, the columns they stand in, and what floats behind them. */
struct line {
    int stitches;
    int *column;
    struct float_run *runs;
    int nruns;
};

static struct line line_read(struct arena *arena, const struct plan_band *band, int row, enum float_ends ends)
{
    size_t columns = (size_t)plan_whole_columns(band);
    uint8_t *yarn_of = arena_alloc(arena, columns, 1);
    struct line line = {.column = arena_alloc(arena, columns, sizeof *line.column),
                        .runs = arena_alloc(arena, columns + 2 * GRID_YARNS_MAX, sizeof *line.runs)};

    line.stitches = plan_read_whole_row(band, row, yarn_of, line.column);
    line.nruns = line.stitches > 0 ? floats_of_row(yarn_of, line.stitches, ends, line.runs) : 0;
    return line;
}

static void gather(struct gathering *into, const struct float_run *run, int from, bool from_open,
                   int to, bool to_open)
{
    into->strand[into->count++] = (struct strand){.from = from,
                                                  .to = to,
                                                  .from_open = from_open,
                                                  .to_open = to_open,
                                                  .yarn = run->yarn,
                                                  .over_limit = run->span_sts > into->leave_sts,
                                                  .span_sts = run->span_sts};
}

/* Between repeats alike: what runs off at the left comes in at the right. */
static void gather_ring(struct gathering *into, struct arena *arena, const struct plan_band *band, int row)
{
    const struct plan_band lone = plan_lone_repeat(band);
    struct line line = line_read(arena, &lone, row, FLOATS_RING);
    int first = band->right_knitted.ncols;

    for (int i = 0; i < line.nruns; i++) {
        const struct float_run *run = &line.runs[i];
        int from = first + line.column[run->from], end = run->from + run->span_sts + 1;

        if (end < line.stitches) {
            gather(into, run, from, false, first + line.column[end], false);
        } else {
            gather(into, run, from, false, first + band->knitted.ncols, true);
            gather(into, run, first, true, first + line.column[end - line.stitches], false);
        }
    }
}

/* The whole row of the piece, of which the drawing shows the sides, and the repeats if
 * they are one. */
static void gather_open(struct gathering *into, struct arena *arena, const struct plan *plan,
                        const struct plan_band *band, int row)
{
    int repeats = band->repeats, repeat = band->knitted.ncols, right = band->right_knitted.ncols;
    int columns = plan_whole_columns(band), left = right + repeats * repeat; /* where those begin */
    struct line line = line_read(arena, band, row, plan->edges == EDGE_TURN ? FLOATS_TURN : FLOATS_ANCHOR);

    for (int i = 0; i < line.nruns; i++) {
        const struct float_run *run = &line.runs[i];
        int end = run->from + run->span_sts + 1, skipped = (repeats - 1) * repeat;
        bool from_edge = run->from < 0, to_edge = end >= line.stitches;
        int from = from_edge ? 0 : line.column[run->from];
        int to = to_edge ? columns : line.column[end];

        if (repeats == 1) {
            gather(into, run, from, from_edge, to, to_edge);
            continue;
        }
        if (from < right)
            gather(into, run, from, from_edge, to < right ? to : right, to >= right);
        if (to >= left && columns > left)
            gather(into, run, (from < left ? left : from) - skipped, from < left, to - skipped, to_edge);
    }
}

const struct strand *plan_row_strands(struct work *work, const struct plan *plan,
                                      const struct plan_band *band, int row, int *count)
{
    struct arena *scratch = arena_branch(work->arena);
    int drawn = band->knitted.ncols + band->left_knitted.ncols + band->right_knitted.ncols;
    struct gathering into = {.leave_sts = band->leave_sts};
    bool alone = !plan->round && band->repeats == 1;

    into.strand = arena_alloc(work->arena, 2 * (size_t)drawn + 4 * GRID_YARNS_MAX, sizeof *into.strand);
    if (!alone)
        gather_ring(&into, scratch, band, row);
    if (!plan->round && (alone || band->side_sts > 0))
        gather_open(&into, scratch, plan, band, row);
    arena_destroy(scratch);
    *count = into.count;
    return into.strand;
}

uint8_t plan_drawn_cell(const struct plan_band *band, int row, int column, bool knitted)
{
    int from = column - band->right.ncols;

    if (from < 0)
        return grid_at(knitted ? &band->right_knitted : &band->right, row, column);
    if (from < band->drawn.ncols)
        return grid_at(knitted ? &band->knitted : &band->drawn, row, from);
    return grid_at(knitted ? &band->left_knitted : &band->left, row, from - band->drawn.ncols);
}

int plan_catch_copies(const struct plan_band *band, const struct catch_mark *mark)
{
    return band->outer ? catches_copies(&band->knitted, mark, band->repeats).count : band->repeats;
}
