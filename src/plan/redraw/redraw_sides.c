/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Side stitches of the redrawn chart: as many as before, each row those of the old row that it is most like.
 */
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "redraw_parts.h"

struct sides {
    const struct redraw_job *job;
    const struct grid *old, *chart; /* repeats, whole */
    int *old_row;                   /* [new rows]: whose side stitches it has */
};

/* The column of the old repeat that a side stitch goes on with; -1: it is something of its own. */
static int goes_on_with(const struct grid *repeat, const struct grid *side, int column, int as)
{
    as = (as % repeat->ncols + repeat->ncols) % repeat->ncols;
    for (int r = 0; r < side->nrows; r++)
        if (side->cell[r * side->ncols + column] != repeat->cell[r * repeat->ncols + as])
            return -1;
    return as;
}

static bool grid_rows_alike(const struct grid *grid, int a, int b)
{
    return grid->ncols == 0 ||
           memcmp(grid->cell + a * grid->ncols, grid->cell + b * grid->ncols, (size_t)grid->ncols) == 0;
}

static bool sides_alike(const struct sides *sides, int a, int b)
{
    const struct plan_band *band = sides->job->old;

    return grid_rows_alike(&band->left, a, b) && grid_rows_alike(&band->right, a, b);
}

/* Of the new repeat row, as much as the old one stretched has in another colour. */
static int64_t unlike(const struct sides *sides, int old_row, int row)
{
    const struct grid *old = sides->old, *chart = sides->chart;
    const struct resize_axis *x = &sides->job->redraw->answer.x;
    int64_t off = 0;

    for (int c = 0; c < chart->ncols; c++)
        for (int k = 0; k < x->count[c]; k++) {
            int column = (x->first[c] + k) % old->ncols;

            if (old->cell[old_row * old->ncols + column] != chart->cell[row * chart->ncols + c])
                off += x->weight[c * x->stride + k];
        }
    return off;
}

static int from_middle(const struct sides *sides, int old_row)
{
    return abs(2 * old_row + 1 - sides->old->nrows);
}

/* Of the old rows under it: the one most like it, then that under more of it, then that nearer the middle. */
static int row_like(const struct sides *sides, int row)
{
    const struct redraw_plain *plain = &sides->job->redraw->plain;
    const struct resize_axis *y = &sides->job->redraw->answer.y;
    int number = row - plain->below_now, best = -1;
    int64_t best_unlike = 0, best_length = 0;

    for (int k = 0; k < y->count[number]; k++) {
        int at = plain->below_was + (y->first[number] + k) % y->nold;
        int64_t off = unlike(sides, at, row), length = y->weight[number * y->stride + k];
        bool better = off != best_unlike         ? off < best_unlike
                      : length != best_length ? length > best_length
                                              : from_middle(sides, at) < from_middle(sides, best < 0 ? at : best);

        if (best < 0 || better) {
            best = at;
            best_unlike = off;
            best_length = length;
        }
    }
    return best;
}

static void rows_choose(struct sides *sides)
{
    const struct redraw_plain *plain = &sides->job->redraw->plain;
    int top = sides->chart->nrows - plain->above_now;

    for (int r = 0; r < sides->chart->nrows; r++)
        if (r < plain->below_now)
            sides->old_row[r] = (2 * r + 1) * plain->below_was / (2 * plain->below_now);
        else if (r >= top)
            sides->old_row[r] = sides->old->nrows - plain->above_was +
                                (2 * (r - top) + 1) * plain->above_was / (2 * plain->above_now);
        else
            sides->old_row[r] = row_like(sides, r);
}

/* --- side stitches that no row has ------------------------------------------------------------------ */

/* Old rows next to each other with the same side stitches. */
struct stretch {
    int first, last;
};

static int stretches_find(const struct sides *sides, struct stretch *stretch)
{
    int n = 0;

    for (int r = 0; r < sides->old->nrows; r++)
        if (r > 0 && sides_alike(sides, r - 1, r))
            stretch[n - 1].last = r;
        else
            stretch[n++] = (struct stretch){r, r};
    return n;
}

static int shown_by(const struct sides *sides, const struct stretch *stretch)
{
    int count = 0;

    for (int r = 0; r < sides->chart->nrows; r++)
        count += sides->old_row[r] >= stretch->first && sides->old_row[r] <= stretch->last;
    return count;
}

static bool is_free(const struct sides *sides, const struct stretch *stretch, int n, int row)
{
    for (int i = 0; i < n; i++)
        if (sides->old_row[row] >= stretch[i].first && sides->old_row[row] <= stretch[i].last)
            return shown_by(sides, &stretch[i]) > 1;
    return false;
}

/* Twice the distance of the middles, in parts of both counts. */
static int64_t apart(const struct sides *sides, int old_row, int row)
{
    return llabs((2 * (int64_t)old_row + 1) * sides->chart->nrows - (2 * (int64_t)row + 1) * sides->old->nrows);
}

/* Into the nearest row that is as like it as it is like the row it has, and not the only one with what it has. */
static void stretch_show(struct sides *sides, const struct stretch *stretch, int n, int which)
{
    int best_row = -1, best_old = 0;

    for (int r = 0; r < sides->chart->nrows; r++)
        for (int old = stretch[which].first; old <= stretch[which].last; old++) {
            int64_t near = apart(sides, old, r), best = best_row < 0 ? INT64_MAX : apart(sides, best_old, best_row);

            if (unlike(sides, old, r) > unlike(sides, sides->old_row[r], r) || !is_free(sides, stretch, n, r))
                continue;
            if (near < best || (near == best && from_middle(sides, old) < from_middle(sides, best_old))) {
                best_row = r;
                best_old = old;
            }
        }
    if (best_row >= 0)
        sides->old_row[best_row] = best_old;
}

/* Those at the middle first: so both of a mirrored pair have the same choice. */
static void lost_show(struct sides *sides)
{
    size_t nrows = (size_t)sides->old->nrows;
    struct stretch *stretch = arena_alloc(sides->job->work->arena, nrows, sizeof *stretch);
    int n = stretches_find(sides, stretch);

    for (int step = 0; step < n; step++) {
        int which = step % 2 == 0 ? n / 2 + step / 2 : n / 2 - (step + 1) / 2;

        if (shown_by(sides, &stretch[which]) == 0)
            stretch_show(sides, stretch, n, which);
    }
}

/* --- all of it ------------------------------------------------------------------------------------- */

static struct grid side_redrawn(const struct sides *sides, const struct grid *side, bool at_left)
{
    const struct grid *chart = sides->chart;
    uint8_t *cell = arena_alloc(sides->job->work->arena, (size_t)side->ncols * (size_t)chart->nrows, 1);

    for (int c = 0; c < side->ncols; c++) {
        int from = at_left ? c : c - side->ncols;
        int as = goes_on_with(sides->old, side, c, from);
        int now = (from % chart->ncols + chart->ncols) % chart->ncols;

        for (int r = 0; r < chart->nrows; r++)
            cell[r * side->ncols + c] = as >= 0 ? chart->cell[r * chart->ncols + now]
                                                : side->cell[sides->old_row[r] * side->ncols + c];
    }
    return (struct grid){chart->nrows, side->ncols, cell};
}

void redraw_sides(const struct redraw_job *job, struct grid *left, struct grid *right)
{
    const struct grid *chart = &job->redraw->answer.chart;
    struct sides sides = {.job = job,
                          .old = &job->old->drawn,
                          .chart = chart,
                          .old_row = arena_alloc(job->work->arena, (size_t)chart->nrows, sizeof(int))};

    if (job->old->side_sts > 0) {
        rows_choose(&sides);
        lost_show(&sides);
    }
    *left = side_redrawn(&sides, &job->old->left, true);
    *right = side_redrawn(&sides, &job->old->right, false);
}
