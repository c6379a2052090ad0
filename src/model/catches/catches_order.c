/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "catches_order.h"

#include <string.h>

#include "base/arena.h"

/* Room for a counting sort by column: rows in several yarns are far from sorted. */
struct row_sort {
    int ncols;
    int64_t *start;          /* [ncols + 1] */
    struct catch_mark *mark; /* the widest row */
};

static void sort_by_column(struct row_sort *sort, const struct catch_mark *from, int64_t nmarks)
{
    memset(sort->start, 0, ((size_t)sort->ncols + 1) * sizeof *sort->start);
    for (int64_t i = 0; i < nmarks; i++)
        if (from[i].column != CATCH_NO_COLUMN)
            sort->start[from[i].column + 1]++;
    for (int c = 0; c < sort->ncols; c++)
        sort->start[c + 1] += sort->start[c];
    for (int64_t i = 0; i < nmarks; i++)
        if (from[i].column != CATCH_NO_COLUMN)
            sort->mark[sort->start[from[i].column]++] = from[i];
}

/* Behind one stitch there are few strands: each is put in its place in turn. */
static void copy_by_strand(const struct catch_mark *from, int64_t nmarks, struct catch_mark *to)
{
    for (int64_t i = 0; i < nmarks; i++) {
        int64_t at = i;

        for (; at > 0 && to[at - 1].column == from[i].column && to[at - 1].strand > from[i].strand;
             at--)
            to[at] = to[at - 1];
        to[at] = from[i];
    }
}

int64_t catches_put_in_order(struct arena *arena, struct catch_mark *mark, const int64_t *row_start,
                             int nrows, int ncols)
{
    struct row_sort sort = {.ncols = ncols};
    int64_t widest = 0, count = 0;

    for (int r = 0; r < nrows; r++)
        if (row_start[r + 1] - row_start[r] > widest)
            widest = row_start[r + 1] - row_start[r];
    if (widest == 0) /* nothing was caught, and there may be no marks at all to point at */
        return 0;
    sort.start = arena_alloc(arena, (size_t)ncols + 1, sizeof *sort.start);
    sort.mark = arena_alloc(arena, (size_t)widest, sizeof *sort.mark);
    for (int r = 0; r < nrows; r++) {
        int64_t nmarks;

        sort_by_column(&sort, mark + row_start[r], row_start[r + 1] - row_start[r]);
        nmarks = sort.start[ncols];
        copy_by_strand(sort.mark, nmarks, mark + count);
        count += nmarks;
    }
    return count;
}
