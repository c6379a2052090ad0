/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Which catches a drawing shows, and where: those of the repeat, and those of the floats that
 * touch side stitches or an edge.
 */
#include <stdlib.h>

#include "base/arena.h"
#include "base/work.h"
#include "draw_parts.h"
#include "plan/strands.h"

/* A catch of band->outer: of one repeat the drawing is the whole row; of several it shows the
 * first for both the outermost. Returned: false where it is in a copy that is not drawn. */
static bool place_outer(const struct drawing *drawing, const struct catch_mark *mark,
                        struct draw_catch *out)
{
    const struct plan_band *band = drawing->band;
    int repeat = band->drawn.ncols, right = drawing->right_cols;
    int last = right + (band->repeats - 1) * repeat; /* where the last copy begins */
    bool at_right = mark->column < right + repeat;
    int column = at_right ? mark->column : mark->column - last + right;
    bool within = column >= right && column < right + repeat;

    if (!at_right && mark->column < last)
        return false;
    *out = (struct draw_catch){.row = mark->row,
                               .column = column,
                               .strand = mark->strand,
                               .edge = within && band->repeats > 1,
                               .right_edge = at_right,
                               .left_edge = !at_right};
    return !(out->edge && drawing->wrong_side);
}

static int64_t list_catches(const struct drawing *drawing, struct draw_catch *list)
{
    const struct plan_band *band = drawing->band;
    int64_t count = 0;

    for (int64_t i = 0; i < band->catches->count; i++) {
        const struct catch_mark *mark = &band->catches->mark[i];
        int copies = plan_catch_copies(band, mark);

        if (copies > 0)
            list[count++] = (struct draw_catch){.row = mark->row,
                                                .column = mark->column + drawing->right_cols,
                                                .strand = mark->strand,
                                                .left_out = band->repeats - copies};
    }
    for (int64_t i = 0; band->outer && i < band->outer->count; i++)
        count += place_outer(drawing, &band->outer->mark[i], &list[count]);
    return count;
}

/* By row, column, strand; that of every repeat before that of an edge. */
static int compare(const void *a, const void *b)
{
    const struct draw_catch *p = a, *q = b;

    if (p->row != q->row)
        return p->row < q->row ? -1 : 1;
    if (p->column != q->column)
        return p->column < q->column ? -1 : 1;
    if (p->strand != q->strand)
        return p->strand < q->strand ? -1 : 1;
    return (int)p->edge - (int)q->edge;
}

static bool is_same_stitch(const struct draw_catch *a, const struct draw_catch *b)
{
    return a->row == b->row && a->column == b->column;
}

/* Twice the same is one mark: what stands for every repeat says it of the edge too. */
static int64_t drop_twins(struct draw_catch *list, int64_t count)
{
    int64_t kept = 0;

    for (int64_t i = 0; i < count; i++) {
        struct draw_catch *before = kept > 0 ? &list[kept - 1] : NULL;

        if (!before || !is_same_stitch(before, &list[i]) || before->strand != list[i].strand) {
            list[kept++] = list[i];
        } else if (before->edge) {
            before->right_edge |= list[i].right_edge;
            before->left_edge |= list[i].left_edge;
        } else {
            before->left_out -= before->left_out > 0;
        }
    }
    return kept;
}

const struct draw_catch *draw_catches(struct drawing *drawing, int64_t *count)
{
    const struct plan_band *band = drawing->band;
    int64_t room = band->catches->count + (band->outer ? band->outer->count : 0);
    struct draw_catch *list = arena_alloc(drawing->work->arena, (size_t)room + 1, sizeof *list);
    int64_t n = list_catches(drawing, list);

    qsort(list, (size_t)n, sizeof *list, compare);
    n = drop_twins(list, n);
    for (int64_t i = 0, of; i < n; i += of) {
        of = 1;
        while (i + of < n && is_same_stitch(&list[i], &list[i + of]))
            of++;
        for (int64_t k = 0; k < of; k++) {
            list[i + k].place = (int)k;
            list[i + k].of = (int)of;
            drawing->nmarks[list[i + k].strand]++;
            drawing->nmarks_edge[list[i + k].strand] += list[i + k].edge;
            drawing->nmarks_left_out += list[i + k].left_out > 0;
        }
    }
    *count = n;
    return list;
}
