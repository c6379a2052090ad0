/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Which catches a drawing shows, and where: those of the repeat, and those of the floats that
 * touch side stitches or an edge.
 */
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "parts.h"

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

/* A catch that stands in fewer repeats than there are: its strand comes in from beyond the repeat,
 * which beside an edge it cannot. From which side: there the row of the repeat lacks it. */
static void note_left_out(const struct drawing *drawing, const struct catch_mark *mark,
                          struct draw_catch *caught)
{
    const struct grid *repeat = &drawing->band->knitted;
    size_t ncols = (size_t)repeat->ncols, column = (size_t)mark->column;
    const uint8_t *cells = repeat->cell + mark->row * ncols;

    caught->not_right = !memchr(cells, mark->strand, column);
    caught->not_left = !memchr(cells + column, mark->strand, ncols - column);
}

static int64_t list_catches(const struct drawing *drawing, struct draw_catch *list)
{
    const struct plan_band *band = drawing->band;
    int64_t count = 0;

    for (int64_t i = 0; i < band->catches->count; i++) {
        const struct catch_mark *mark = &band->catches->mark[i];
        int copies = plan_catch_copies(band, mark);

        if (copies <= 0)
            continue;
        list[count] = (struct draw_catch){
            .row = mark->row, .column = mark->column + drawing->right_cols, .strand = mark->strand};
        if (copies < band->repeats)
            note_left_out(drawing, mark, &list[count]);
        count++;
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
            before->not_right &= !list[i].right_edge;
            before->not_left &= !list[i].left_edge;
        }
    }
    return kept;
}

enum draw_standing draw_standing_of(const struct draw_catch *caught)
{
    if (caught->edge)
        return STANDING_EDGE;
    return caught->not_right || caught->not_left ? STANDING_LEFT_OUT : STANDING_ALL;
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
            drawing->nmarks_left_out[list[i + k].strand] +=
                draw_standing_of(&list[i + k]) == STANDING_LEFT_OUT;
        }
    }
    *count = n;
    return list;
}
