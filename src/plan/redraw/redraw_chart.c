/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The redrawn chart looked over: stitches in another colour than covers most of them, where something broke
 * and why, marks for a chart in characters.
 */
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "model/redraw/resize_ends.h"
#include "redraw_parts.h"

static const struct resize_answer *answer_of(const struct redraw_job *job)
{
    return job->redraw->answer;
}

/* The rows of the new chart that question.old has become. */
static struct grid new_between(const struct redraw_job *job)
{
    const struct redraw_plain *plain = &job->redraw->plain;
    const struct grid *chart = &answer_of(job)->chart;

    return (struct grid){chart->nrows - plain->below_now - plain->above_now, chart->ncols,
                         chart->cell + plain->below_now * chart->ncols};
}

/* --- what covers a stitch --------------------------------------------------------------------- */

void redraw_under_find(struct redraw_under *under, const struct motif_line *line, int old_count, int number)
{
    int64_t old_length = 2 * (int64_t)line->count, left = 2 * (int64_t)old_count, all = old_length * old_count;
    int64_t from = ((left * number - line->phase) % all + all) % all;

    under->first = (int)(from / old_length);
    under->count = 0;
    while (left > 0 && under->count < RESIZE_SIDE_MAX + 2) {
        int64_t end = (from / old_length + 1) * old_length;
        int64_t part = end - from < left ? end - from : left;

        under->length[under->count++] = part;
        from = end;
        left -= part;
    }
}

/* Is less of it covered by its colour than by another? Where two cover as much either will do. */
static bool is_changed(const struct grid *old, const struct redraw_under *columns, const struct redraw_under *rows,
                       uint8_t yarn)
{
    int64_t covers[GRID_YARNS_MAX] = {0};

    for (int r = 0; r < rows->count; r++)
        for (int c = 0; c < columns->count; c++) {
            int row = (rows->first + r) % old->nrows, column = (columns->first + c) % old->ncols;

            covers[old->cell[row * old->ncols + column]] += rows->length[r] * columns->length[c];
        }
    for (int y = 0; y < GRID_YARNS_MAX; y++)
        if (covers[y] > covers[yarn])
            return true;
    return false;
}

static void changed_set(struct redraw_job *job)
{
    struct arena *arena = job->work->arena;
    const struct resize_answer *answer = answer_of(job);
    const struct grid *old = job->question.old, chart = new_between(job);
    bool *changed = arena_alloc(arena, (size_t)answer->chart.ncols * (size_t)answer->chart.nrows, sizeof *changed);
    bool *between = changed + job->redraw->plain.below_now * chart.ncols;
    struct redraw_under *columns = arena_alloc(arena, (size_t)chart.ncols, sizeof *columns), rows;

    for (int c = 0; c < chart.ncols; c++)
        redraw_under_find(&columns[c], &answer->columns, old->ncols, c);
    for (int r = 0; r < chart.nrows; r++) {
        redraw_under_find(&rows, &answer->rows, old->nrows, r);
        for (int c = 0; c < chart.ncols; c++) {
            int at = r * chart.ncols + c;

            between[at] = is_changed(old, &columns[c], &rows, chart.cell[at]);
            job->redraw->nchanged += between[at];
        }
    }
    job->redraw->changed = changed;
}

/* --- what could not be kept --------------------------------------------------------------------- */

static bool same_stretch(const struct resize_crowd *a, const struct resize_crowd *b)
{
    return a->from == b->from && a->length == b->length && a->runs == b->runs;
}

static int lacks_more(const void *a, const void *b)
{
    const struct redraw_crowd *x = a, *y = b;
    int by = (y->stretch.runs - y->stretch.room) - (x->stretch.runs - x->stretch.room);

    return by != 0 ? by : x->along != y->along ? y->along - x->along : x->number[0] - y->number[0];
}

/* Those of the same stretch together. Returned: how many were added. */
static int crowds_add(struct redraw_job *job, bool along, struct redraw_crowd *crowds)
{
    const struct grid *old = job->question.old;
    const struct resize_answer *answer = answer_of(job);
    int below = job->redraw->plain.below_was;
    const uint8_t *broken = along ? answer->broken_row + below : answer->broken_column;
    int n = along ? old->nrows : old->ncols, added = 0;
    struct resize_crowd *found = arena_alloc(job->work->arena, (size_t)n, sizeof *found);

    for (int i = 0; i < n; i++)
        if (broken[i])
            found[i] = resize_crowd_find(old, along ? &answer->columns : &answer->rows, along,
                                         along || job->question.rows_are_ring, i);
    for (int i = 0; i < n; i++) {
        struct redraw_crowd *crowd = &crowds[added];
        int *number;

        if (found[i].runs <= found[i].room)
            continue;
        number = arena_alloc(job->work->arena, (size_t)n, sizeof *number);
        *crowd = (struct redraw_crowd){.along = along, .number = number, .stretch = found[i]};
        for (int j = i; j < n; j++)
            if (found[j].runs > found[j].room && same_stretch(&found[j], &crowd->stretch)) {
                number[crowd->count++] = along ? below + j : j;
                found[j].runs = 0;
            }
        crowd->stretch.from += along ? 0 : below;
        added++;
    }
    return added;
}

static void hurt_set(struct redraw_job *job)
{
    struct plan_redraw *redraw = job->redraw;
    const struct resize_answer *answer = answer_of(job);
    int nold = job->question.old->nrows, nnew = new_between(job).nrows;
    const uint8_t *broken = answer->broken_row + redraw->plain.below_was;
    int *old_rows = arena_alloc(job->work->arena, (size_t)nold, sizeof *old_rows);
    int *new_rows = arena_alloc(job->work->arena, (size_t)nnew, sizeof *new_rows);

    for (int r = 0; r < nold; r++)
        if (broken[r])
            old_rows[redraw->nhurt_old++] = redraw->plain.below_was + r;
    for (int i = 0; i < nnew; i++) {
        struct redraw_under under;
        bool hurt = false;

        redraw_under_find(&under, &answer->rows, nold, i);
        for (int k = 0; k < under.count; k++)
            hurt = hurt || broken[(under.first + k) % nold];
        if (hurt)
            new_rows[redraw->nhurt_new++] = redraw->plain.below_now + i;
    }
    redraw->hurt_old = old_rows;
    redraw->hurt_new = new_rows;
}

/* The most runs of colour in a new row (column) over each old one. */
static void runs_over(const struct redraw_job *job, bool along, bool ring, int *most)
{
    const struct grid *old = job->question.old, chart = new_between(job);
    int nold = along ? old->nrows : old->ncols, nnew = along ? chart.nrows : chart.ncols;

    for (int i = 0; i < nnew; i++) {
        int runs = redraw_runs(&chart, along, ring, i);
        struct redraw_under under;

        redraw_under_find(&under, along ? &answer_of(job)->rows : &answer_of(job)->columns, nold, i);
        for (int k = 0; k < under.count; k++) {
            int at = (under.first + k) % nold;

            most[at] = runs > most[at] ? runs : most[at];
        }
    }
}

/* What lies in a row may have stepped aside into the next. */
static int most_beside(const int *most, int n, bool ring, int at)
{
    int found = most[at];

    for (int step = -1; step <= 1; step += 2)
        if (ring || (at + step >= 0 && at + step < n))
            found = most[(at + step + n) % n] > found ? most[(at + step + n) % n] : found;
    return found;
}

static struct redraw_simpler simpler_find(const struct redraw_job *job, bool along)
{
    const struct grid *old = job->question.old;
    int below = along ? job->redraw->plain.below_was : 0;
    int n = along ? old->nrows : old->ncols;
    bool runs_ring = along || job->question.rows_are_ring, ring = !along || job->question.rows_are_ring;
    int *most = arena_alloc(job->work->arena, (size_t)n, sizeof *most);
    int *number = arena_alloc(job->work->arena, (size_t)n, sizeof *number);
    struct redraw_simpler simpler = {.number = number};

    runs_over(job, along, runs_ring, most);
    for (int i = 0; i < n; i++) {
        int was = redraw_runs(old, along, runs_ring, i), now = most_beside(most, n, ring, i);

        if (now >= was)
            continue;
        number[simpler.count++] = below + i;
        if (was - now > simpler.was - simpler.now) {
            simpler.worst = below + i;
            simpler.was = was;
            simpler.now = now;
        }
    }
    return simpler;
}

/* Only where there is less room: on more stitches and rows a tip may be two wide, and is no less there. */
static void ends_set(struct redraw_job *job)
{
    const struct grid chart = new_between(job);
    struct resize_ends ends;
    int *row;

    if (chart.ncols >= job->question.old->ncols && chart.nrows >= job->question.old->nrows)
        return;
    ends = resize_ends_lost(job->work, &job->question, &chart, &answer_of(job)->columns, &answer_of(job)->rows);
    row = arena_alloc(job->work->arena, (size_t)ends.nrows + 1, sizeof *row);
    for (int i = 0; i < ends.nrows; i++)
        row[i] = job->redraw->plain.below_was + ends.row[i];
    job->redraw->ends_lost = ends.lost;
    job->redraw->ends_row = row;
    job->redraw->nends_rows = ends.nrows;
}

static void faults_set(struct redraw_job *job)
{
    struct plan_redraw *redraw = job->redraw;
    const struct grid *old = &job->old->drawn;
    struct redraw_crowd *crowds;

    redraw->nfaults = resize_faults_of_drawing(&answer_of(job)->faults);
    redraw->nlost = answer_of(job)->faults.lost - answer_of(job)->faults.holes;
    redraw->begins = job->old->begin > 0;
    if (redraw->nfaults == 0) {
        ends_set(job);
        redraw->simpler_rows = simpler_find(job, true);
        redraw->simpler_columns = simpler_find(job, false);
        return;
    }
    crowds = arena_alloc(job->work->arena, (size_t)old->nrows + (size_t)old->ncols, sizeof *crowds);
    redraw->ncrowds = crowds_add(job, true, crowds);
    redraw->ncrowds += crowds_add(job, false, crowds + redraw->ncrowds);
    qsort(crowds, (size_t)redraw->ncrowds, sizeof *crowds, lacks_more);
    redraw->crowds = crowds;
    hurt_set(job);
}

/* --- marks, and the chart as a picture ----------------------------------------------------------- */

static bool mark_is_free(const struct redraw_job *job, const char *mark)
{
    for (int y = 0; y < job->plan->piece.nyarns; y++)
        if (job->redraw->mark[y] && strcmp(job->redraw->mark[y], mark) == 0)
            return false;
    return true;
}

/* Yarns of pictures need none: a letter of theirs, or the next free one. */
static void marks_set(struct redraw_job *job)
{
    const struct plan_piece *piece = &job->plan->piece;
    struct plan_redraw *redraw = job->redraw;

    for (int y = 0; y < piece->nyarns; y++)
        if (piece->yarns[y].mark && *piece->yarns[y].mark)
            redraw->mark[y] = piece->yarns[y].mark;
    for (int y = 0; y < piece->nyarns; y++) {
        const char *letters =
            arena_printf(job->work->arena, "%sabcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ",
                         piece->yarns[y].name);

        for (const char *at = letters; !redraw->mark[y] && *at; at++) {
            const char *mark = arena_strndup(job->work->arena, at, 1);

            if (*at > ' ' && *at < 0x7f && !strchr(";|-#0123456789", *at) && mark_is_free(job, mark)) {
                redraw->mark[y] = mark;
                redraw->mark_chosen[y] = true;
            }
        }
    }
}

static bool has_yarn(const struct grid *grid, int yarn)
{
    for (int i = 0; i < grid->ncols * grid->nrows; i++)
        if (grid->cell[i] == yarn)
            return true;
    return false;
}

/* A picture is read back by its shades: those of all yarns that have one must differ. */
static const char *picture_why(const struct redraw_job *job)
{
    const struct plan_piece *piece = &job->plan->piece;

    if (job->old->side_sts > 0)
        return "a picture has no side stitches";
    for (int y = 0; y < piece->nyarns; y++) {
        if (!has_yarn(&answer_of(job)->chart, y))
            continue;
        if (!piece->yarns[y].shade_given)
            return arena_printf(job->work->arena, "%s has no shade in the project", piece->yarns[y].name);
        for (int other = 0; other < piece->nyarns; other++)
            if (other != y && piece->yarns[other].shade_given &&
                memcmp(piece->yarns[other].rgb, piece->yarns[y].rgb, 3) == 0)
                return arena_printf(job->work->arena, "%s and %s have the same shade", piece->yarns[y].name,
                                    piece->yarns[other].name);
    }
    return NULL;
}

void redraw_look_over(struct redraw_job *job)
{
    struct plan_redraw *redraw = job->redraw;
    const struct resize_answer *answer = redraw->answer;
    double whole = (double)answer->square * answer->chart.ncols * answer->chart.nrows;
    const struct given_whole *across = &job->plan->project->parts[job->old->part].across;

    redraw->differs_part = (double)answer->area / whole;
    redraw->least_part = (double)answer->bound / whole;
    changed_set(job);
    faults_set(job);
    marks_set(job);
    redraw->picture_why = picture_why(job);
    redraw->picture_fits = redraw->picture_why == NULL;
    if (across->value > 0 && across->value != answer->chart.ncols)
        redraw->across = across->value;
}
