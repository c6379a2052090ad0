/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Plain rows that stand at one end of a chart alone: apart from the motif, so that what is between stays
 * symmetrical.
 */
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "redraw_parts.h"

static const int REACH_PART = 6; /* every symmetry is kept within a sixth, as in resize_counts() */

static bool is_plain(const struct grid *grid, int row, uint8_t ground)
{
    for (int c = 0; c < grid->ncols; c++)
        if (grid->cell[row * grid->ncols + c] != ground)
            return false;
    return true;
}

/* Has it a symmetry that moves its rows? */
static bool moves_rows(const struct motif *motif)
{
    for (int i = 0; i < motif->nmoves; i++)
        if (motif->move[i].row_is_mirrored || motif->move[i].row > 0)
            return true;
    return false;
}

static void plain_find(const struct grid *drawn, struct redraw_plain *plain)
{
    uint8_t ground = symmetry_ground(drawn);
    int below = 0, above = 0;

    while (below < drawn->nrows && is_plain(drawn, below, ground))
        below++;
    while (above < drawn->nrows - below && is_plain(drawn, drawn->nrows - 1 - above, ground))
        above++;
    if (below == drawn->nrows)
        return;
    plain->below_was = below > above ? below - above : 0;
    plain->above_was = above > below ? above - below : 0;
}

void redraw_plain_set(struct redraw_job *job)
{
    const struct grid *drawn = &job->old->drawn;
    struct redraw_plain *plain = &job->redraw->plain;
    struct motif whole = motif_find(drawn, job->question.rows_are_ring);

    job->question.old = drawn;
    job->motif = whole;
    if (job->question.rows_are_ring || moves_rows(&whole))
        return;
    plain_find(drawn, plain);
    job->between = (struct grid){drawn->nrows - plain->below_was - plain->above_was, drawn->ncols,
                                 drawn->cell + plain->below_was * drawn->ncols};
    job->motif = motif_find(&job->between, false);
    if (moves_rows(&job->motif)) {
        job->question.old = &job->between;
        return;
    }
    job->motif = whole;
    *plain = (struct redraw_plain){0};
}

struct rational redraw_exact_between(const struct redraw_job *job, struct rational whole)
{
    return rational_div(rational_mul(whole, rational_whole(job->question.old->nrows)),
                        rational_whole(job->old->drawn.nrows));
}

int redraw_rows_between(const struct redraw_job *job, int nrows)
{
    int old_count = job->question.old->nrows, found;
    struct rational exact = redraw_exact_between(job, rational_whole(nrows));

    if (old_count == job->old->drawn.nrows)
        return nrows;
    found = motif_count_near(&job->motif, false, old_count, exact, rational_make(1, REACH_PART));
    if (found == 0)
        found = motif_count_middle(&job->motif, false, old_count, exact);
    return found <= nrows ? found : nrows;
}

/* --- put back ------------------------------------------------------------------------------------ */

static uint8_t *rows_around(const struct redraw_job *job, const uint8_t *between, uint8_t with)
{
    const struct plan_redraw *redraw = job->redraw;
    size_t width = (size_t)redraw->answer.chart.ncols, n = (size_t)redraw->rows.now * width;
    uint8_t *all = memset(arena_alloc(job->work->arena, n, 1), with, n);

    memcpy(all + (size_t)redraw->plain.below_now * width, between, (size_t)redraw->plain.motif_now * width);
    return all;
}

static void numbers_raise(struct resize_numbers *numbers, int by)
{
    for (int i = 0; i < numbers->count; i++)
        numbers->number[i] += by;
}

void redraw_plain_back(const struct redraw_job *job)
{
    struct redraw_plain *plain = &job->redraw->plain;
    struct resize_answer *answer = &job->redraw->answer;
    int more = job->redraw->rows.now - answer->chart.nrows;

    plain->motif_was = job->question.old->nrows;
    plain->motif_now = answer->chart.nrows;
    if (plain->below_was + plain->above_was == 0)
        return;
    plain->below_now = plain->below_was > 0 ? more : 0;
    plain->above_now = plain->above_was > 0 ? more : 0;
    answer->chart.cell = rows_around(job, answer->chart.cell, symmetry_ground(&job->old->drawn));
    answer->changed = rows_around(job, answer->changed, 0);
    answer->chart.nrows += more;
    for (int i = 0; i < answer->motif.nmoves; i++)
        if (answer->motif.move[i].row_is_mirrored)
            answer->motif.move[i].row += 2 * plain->below_was;
    numbers_raise(&answer->broken_rows, plain->below_was);
    numbers_raise(&answer->broken_new_rows, plain->below_now);
    numbers_raise(&answer->ends_rows, plain->below_was);
    numbers_raise(&answer->simpler_rows.at, plain->below_was);
    answer->simpler_rows.worst += plain->below_was;
}
