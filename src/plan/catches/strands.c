/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "strands.h"

#include "base/arena.h"
#include "base/work.h"

struct gathering {
    struct strand *strand;
    int count;
    int leave_sts;
};

/* A row of stitches and the columns they stand in. */
struct line {
    uint8_t *yarn;
    int *column;
    int stitches;
};

static void line_append(struct line *line, const struct grid *grid, int row, int first_column)
{
    const uint8_t *cell = grid->ncols > 0 ? grid->cell + (size_t)row * (size_t)grid->ncols : NULL;

    for (int column = 0; column < grid->ncols; column++)
        if (cell[column] != GRID_NO_STITCH) {
            line->yarn[line->stitches] = cell[column];
            line->column[line->stitches++] = first_column + column;
        }
}

static struct line line_create(struct arena *arena, int columns)
{
    struct line line = {arena_alloc(arena, (size_t)columns + 1, sizeof *line.yarn),
                        arena_alloc(arena, (size_t)columns + 1, sizeof *line.column), 0};

    return line;
}

static struct float_run *line_floats(struct arena *arena, const struct line *line,
                                     enum float_ends ends, int *count)
{
    struct float_run *runs =
        arena_alloc(arena, (size_t)line->stitches + 2 * GRID_YARNS_MAX, sizeof *runs);

    *count = line->stitches > 0 ? floats_of_row(line->yarn, line->stitches, ends, runs) : 0;
    return runs;
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
static void gather_ring(struct gathering *into, struct arena *arena, const struct grid *repeat,
                        int row, int first_column)
{
    struct line line = line_create(arena, repeat->ncols);
    int count;
    const struct float_run *runs;

    line_append(&line, repeat, row, first_column);
    runs = line_floats(arena, &line, FLOATS_RING, &count);
    for (int i = 0; i < count; i++) {
        int from = line.column[runs[i].from];
        int end = runs[i].from + runs[i].span_sts + 1;

        if (end < line.stitches) {
            gather(into, &runs[i], from, false, line.column[end], false);
        } else {
            gather(into, &runs[i], from, false, first_column + repeat->ncols, true);
            gather(into, &runs[i], first_column, true, line.column[end - line.stitches], false);
        }
    }
}

/* The whole row of the piece, of which the drawing shows the sides, and the repeats if
 * they are one. */
static void gather_open(struct gathering *into, struct arena *arena, const struct plan *plan,
                        const struct plan_band *band, int row)
{
    int repeats = band->repeats, repeat = band->knitted.ncols, right = band->right_knitted.ncols;
    int between = repeats * repeat, skipped = (repeats - 1) * repeat;
    int columns = right + between + band->left_knitted.ncols;
    struct line line = line_create(arena, columns);
    int count;
    const struct float_run *runs;

    line_append(&line, &band->right_knitted, row, 0);
    for (int i = 0; i < repeats; i++)
        line_append(&line, &band->knitted, row, right + i * repeat);
    line_append(&line, &band->left_knitted, row, right + between);
    runs = line_floats(arena, &line, plan->edges == EDGE_TURN ? FLOATS_TURN : FLOATS_ANCHOR, &count);
    for (int i = 0; i < count; i++) {
        int end = runs[i].from + runs[i].span_sts + 1;
        bool from_edge = runs[i].from < 0, to_edge = end >= line.stitches;
        int from = from_edge ? 0 : line.column[runs[i].from];
        int to = to_edge ? columns : line.column[end];
        bool starts_right = from < right, ends_left = to >= right + between;

        if (repeats == 1) {
            gather(into, &runs[i], from, from_edge, to, to_edge);
            continue;
        }
        if (starts_right) {
            bool leaves = to >= right;
            gather(into, &runs[i], from, from_edge, leaves ? right : to, leaves);
        }
        if (ends_left && columns > right + between) {
            bool enters = from < right + between;
            gather(into, &runs[i], (enters ? right + between : from) - skipped, enters, to - skipped,
                   to_edge);
        }
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
        gather_ring(&into, scratch, &band->knitted, row, band->right_knitted.ncols);
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
