/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "strands.h"

#include <stdlib.h>

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

/* --- catches ------------------------------------------------------------------------------- */

static struct catch_copies copies_of(const struct plan_band *band, const struct catch_mark *mark)
{
    return band->outer ? catches_copies(&band->knitted, mark, band->repeats)
                       : (struct catch_copies){0, band->repeats};
}

int plan_catch_copies(const struct plan_band *band, const struct catch_mark *mark)
{
    return copies_of(band, mark).count;
}

/* A catch of band->outer: of one repeat the drawing is the whole row; of several it shows the
 * first for both the outermost. Returned: false where it is in a copy that is not drawn. */
static bool place_outer(const struct plan_band *band, const struct catch_mark *mark, bool wrong_side,
                        struct drawn_catch *out)
{
    int repeat = band->drawn.ncols, right = band->right.ncols;
    int last = right + (band->repeats - 1) * repeat; /* where the last copy begins */
    bool at_right = mark->column < right + repeat;
    int column = at_right ? mark->column : mark->column - last + right;
    bool within = column >= right && column < right + repeat;

    if (!at_right && mark->column < last)
        return false;
    *out = (struct drawn_catch){.row = mark->row,
                                .column = column,
                                .strand = mark->strand,
                                .edge = within && band->repeats > 1,
                                .right_edge = at_right,
                                .left_edge = !at_right};
    return !(out->edge && wrong_side);
}

static int64_t list_catches(const struct plan_band *band, bool wrong_side, struct drawn_catch *list)
{
    int64_t count = 0;

    for (int64_t i = 0; i < band->catches->count; i++) {
        const struct catch_mark *mark = &band->catches->mark[i];
        struct catch_copies copies = copies_of(band, mark);

        if (copies.count <= 0)
            continue;
        list[count++] = (struct drawn_catch){.row = mark->row,
                                             .column = mark->column + band->right.ncols,
                                             .strand = mark->strand,
                                             .not_right = copies.first > 0,
                                             .not_left = copies.first + copies.count < band->repeats};
    }
    for (int64_t i = 0; band->outer && i < band->outer->count; i++)
        count += place_outer(band, &band->outer->mark[i], wrong_side, &list[count]);
    return count;
}

/* By row, column, strand; that of every repeat before that of an edge. */
static int compare(const void *a, const void *b)
{
    const struct drawn_catch *p = a, *q = b;

    if (p->row != q->row)
        return p->row < q->row ? -1 : 1;
    if (p->column != q->column)
        return p->column < q->column ? -1 : 1;
    if (p->strand != q->strand)
        return p->strand < q->strand ? -1 : 1;
    return (int)p->edge - (int)q->edge;
}

static bool is_same_stitch(const struct drawn_catch *a, const struct drawn_catch *b)
{
    return a->row == b->row && a->column == b->column;
}

/* Twice the same is one mark: what stands for every repeat says it of the edge too. */
static int64_t drop_twins(struct drawn_catch *list, int64_t count)
{
    int64_t kept = 0;

    for (int64_t i = 0; i < count; i++) {
        struct drawn_catch *before = kept > 0 ? &list[kept - 1] : NULL;

        if (!before || !is_same_stitch(before, &list[i]) || before->strand != list[i].strand) {
            list[kept++] = list[i];
        } else if (before->edge) {
            before->right_edge |= list[i].right_edge;
            before->left_edge |= list[i].left_edge;
        } else {
            before->not_right &= !list[i].right_edge;
            before->not_left &= !list[i].left_edge;
        }
    }
    return kept;
}

const struct drawn_catch *plan_drawn_catches(struct work *work, const struct plan_band *band, bool wrong_side,
                                             int64_t *count)
{
    int64_t room = band->catches->count + (band->outer ? band->outer->count : 0);
    struct drawn_catch *list = arena_alloc(work->arena, (size_t)room + 1, sizeof *list);
    int64_t n = list_catches(band, wrong_side, list);

    qsort(list, (size_t)n, sizeof *list, compare);
    n = drop_twins(list, n);
    for (int64_t i = 0, of; i < n; i += of) {
        of = 1;
        while (i + of < n && is_same_stitch(&list[i], &list[i + of]))
            of++;
        for (int64_t k = 0; k < of; k++) {
            list[i + k].place = (int)k;
            list[i + k].of = (int)of;
        }
    }
    *count = n;
    return list;
}
