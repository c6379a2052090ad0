/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The redrawn chart looked over: where something broke and why, marks for a chart in characters.
 */
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "redraw_parts.h"

/* --- what could not be kept --------------------------------------------------------------------- */

static bool same_stretch(const struct resize_crowd *a, const struct resize_crowd *b)
{
    return a->from == b->from && a->length == b->length && a->runs == b->runs;
}

static int lacks_more(const void *a, const void *b)
{
    const struct redraw_crowd *x = a, *y = b;
    int by = (y->stretch.runs - y->stretch.room) - (x->stretch.runs - x->stretch.room);

    return by != 0 ? by : x->along != y->along ? y->along - x->along : x->at.number[0] - y->at.number[0];
}

/* Those of the same stretch together. */
static void crowds_add(const struct redraw_job *job, bool along, struct redraw_crowd *crowds, int *ncrowds)
{
    const struct resize_answer *answer = &job->redraw->answer;
    const struct resize_numbers *broken = along ? &answer->broken_rows : &answer->broken_columns;
    const struct grid *old = along ? &job->old->drawn : job->question.old;
    int n = broken->count;
    struct resize_crowd *found = arena_alloc(job->work->arena, (size_t)n, sizeof *found);

    for (int i = 0; i < n; i++)
        found[i] = resize_crowd_find(old, along ? &answer->columns : &answer->rows, along,
                                     along || job->question.rows_are_ring, broken->number[i]);
    for (int i = 0; i < n; i++) {
        struct redraw_crowd *crowd = &crowds[*ncrowds];

        if (found[i].runs <= found[i].room)
            continue;
        *crowd = (struct redraw_crowd){
            along, {arena_alloc(job->work->arena, (size_t)n, sizeof(int)), 0}, found[i]};
        for (int j = i; j < n; j++)
            if (found[j].runs > found[j].room && same_stretch(&found[j], &crowd->stretch)) {
                crowd->at.number[crowd->at.count++] = broken->number[j];
                found[j].runs = 0;
            }
        crowd->stretch.from += along ? 0 : job->redraw->plain.below_was;
        ++*ncrowds;
    }
}

static void faults_set(struct redraw_job *job)
{
    struct plan_redraw *redraw = job->redraw;
    const struct resize_answer *answer = &redraw->answer;
    struct redraw_crowd *crowds = arena_alloc(
        job->work->arena, (size_t)answer->broken_rows.count + (size_t)answer->broken_columns.count, sizeof *crowds);

    redraw->nfaults = resize_faults_of_drawing(&answer->faults);
    redraw->nlost = answer->faults.lost - answer->faults.holes;
    redraw->begins = job->old->begin > 0;
    crowds_add(job, true, crowds, &redraw->ncrowds);
    crowds_add(job, false, crowds, &redraw->ncrowds);
    if (redraw->ncrowds > 1)
        qsort(crowds, (size_t)redraw->ncrowds, sizeof *crowds, lacks_more);
    redraw->crowds = crowds;
}

/* --- marks, and the chart as a picture ----------------------------------------------------------- */

static bool mark_is_free(const struct plan_redraw *redraw, const char *mark)
{
    for (int y = 0; y < redraw->nmarks; y++)
        if (redraw->marks[y].mark && strcmp(redraw->marks[y].mark, mark) == 0)
            return false;
    return true;
}

/* Yarns of pictures need none: a letter of theirs, or the next free one. */
static void marks_set(struct redraw_job *job)
{
    struct plan_redraw *redraw = job->redraw;
    struct arena *arena = job->work->arena;

    for (; redraw->nmarks < job->plan->piece.nyarns; redraw->nmarks++) {
        const struct plan_yarn *yarn = &job->plan->piece.yarns[redraw->nmarks];
        bool given = yarn->mark && *yarn->mark;

        redraw->marks[redraw->nmarks] = (struct redraw_mark){yarn->name, given ? yarn->mark : NULL, given};
    }
    for (struct redraw_mark *of = redraw->marks; of < redraw->marks + redraw->nmarks; of++) {
        const char *letters =
            arena_printf(arena, "%sabcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ", of->yarn);

        for (const char *at = letters; !of->mark && *at; at++) {
            const char *mark = arena_strndup(arena, at, 1);

            if (*at > ' ' && *at < 0x7f && !strchr(";|-#0123456789", *at) && mark_is_free(redraw, mark))
                of->mark = mark;
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
        if (!has_yarn(&job->redraw->answer.chart, y))
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
    const struct resize_answer *answer = &redraw->answer;
    double whole = (double)answer->square * answer->chart.ncols * answer->chart.nrows;
    const struct given_whole *across = &job->plan->project->parts[job->old->part].across;

    redraw->differs_part = (double)answer->area / whole;
    redraw->least_part = (double)answer->bound / whole;
    faults_set(job);
    marks_set(job);
    redraw->picture_why = picture_why(job);
    if (across->value > 0 && across->value != answer->chart.ncols)
        redraw->across = across->value;
}
