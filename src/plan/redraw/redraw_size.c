/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How many stitches and rows the redrawn chart has, and how its repeats go into the piece.
 */
#include <math.h>
#include <stdlib.h>

#include "base/arena.h"
#include "base/work.h"
#include "model/gauge/sizing.h"
#include "redraw_parts.h"
#include "words/say.h"

static const double WIDE_REACH = 0.1;   /* counts within so much of the true width are offered */
static const double HEIGHT_REACH = 0.15; /* and of the true height */
static const double COST_SAID = 0.1;     /* of the size, for a symmetry */
static const double STRETCH_SAID = 0.1;  /* judgement: less is hardly seen */

/* --- what can be ------------------------------------------------------------------------------ */

static int by_number(const void *a, const void *b)
{
    return *(const int *)a - *(const int *)b;
}

/* Half of the rows (or columns) that have a pattern need more stitches than that: each run needs one. */
static int runs_usual(const struct redraw_job *job, bool along)
{
    const struct grid *old = &job->old->drawn;
    int n = along ? old->nrows : old->ncols, count = 0;
    int *runs = arena_alloc(job->work->arena, (size_t)n, sizeof *runs);

    for (int i = 0; i < n; i++) {
        int here = resize_runs(old, along, along || job->question.rows_are_ring, i);

        if (here > 1)
            runs[count++] = here;
    }
    qsort(runs, (size_t)count, sizeof *runs, by_number);
    return count > 0 ? runs[count / 2] : 1;
}

/* Fewer stitches (rows) than the usual row (column) has runs, and fewer than half of the old ones, show no
 * motif. Judgement. */
static int least_count(const struct redraw_job *job, bool along)
{
    int half = ((along ? job->old->drawn.ncols : job->old->drawn.nrows) + 1) / 2;
    int runs = runs_usual(job, along);

    return runs < half ? runs : half;
}

static bool keeps_all(const struct redraw_job *job, bool along, int count)
{
    const struct grid *old = job->question.old;

    if (!along)
        count = redraw_rows_between(job, count);
    return motif_count_near(&job->motif, along, along ? old->ncols : old->nrows, rational_whole(count),
                            rational_whole(0)) == count;
}

/* The least that may and keeps every symmetry. */
static int least_offered(const struct redraw_job *job, bool along)
{
    const struct grid *old = &job->old->drawn;
    int count = along ? old->ncols : old->nrows, least = least_count(job, along);

    while (least < count && !keeps_all(job, along, least))
        least++;
    return least;
}

/* Whether the new chart can still be the motif. All that decides it is here. */
static bool shows_motif(const struct redraw_job *job)
{
    return job->question.ncols >= least_count(job, true) &&
           job->redraw->heights[0].nrows >= least_count(job, false);
}

static const char *rounds_word(const struct redraw_job *job, int n)
{
    return n == 1 ? say_rounds(job->plan->round)->one : say_rounds(job->plan->round)->many;
}

void redraw_judge_motif(struct redraw_job *job)
{
    struct arena *arena = job->work->arena;
    int ncols = job->question.ncols, nrows = job->redraw->heights[0].nrows;
    int cols = ncols < least_count(job, true) ? least_offered(job, true) : ncols;
    int rows = nrows < least_count(job, false) ? least_offered(job, false) : nrows;
    const char *columns_words = ncols < cols ? arena_printf(arena, " --columns %d", cols) : "";
    const char *rows_words = nrows < rows ? arena_printf(arena, " --rows %d", rows) : "";

    if (shows_motif(job))
        return;
    job->why = arena_printf(
        arena,
        "%d stitch%s by %d %s cannot show this motif, which has %d by %d: every run of colour needs a stitch "
        "of its own. Give at least%s%s%s.",
        ncols, ncols == 1 ? "" : "es", nrows, rounds_word(job, nrows), job->old->drawn.ncols,
        job->old->drawn.nrows, columns_words, rows_words,
        (ncols < cols && job->asked->ncols == 0) || (nrows < rows && job->asked->nrows == 0)
            ? arena_printf(arena, "; the motif is then %s by %s. Or take a finer gauge",
                           redraw_length(job, cols / rational_double(job->per_in)),
                           redraw_length(job, rows / rational_double(job->rows_per_in)))
            : "");
}

static void refuse_wide(struct redraw_job *job, struct rational most, int64_t room, int ncols)
{
    struct arena *arena = job->work->arena;
    const char *gauge = job->asked->has_gauge ? "that gauge" : "the project's gauge";
    const char *piece = redraw_length(job, rational_double(job->target_in));

    if (room < 2) {
        job->why = arena_printf(arena, "%s is %lld stitches at %s%s: there is no room for a motif. Check the measure and its unit.",
                                piece, (long long)rational_floor(most), gauge,
                                job->plus_sts > 0 ? arena_printf(arena, ", %d of them at the sides", job->plus_sts)
                                                  : "");
        return;
    }
    job->why = arena_printf(
        arena,
        "a repeat of %d stitches is %s wide at %s, and the piece is %s, %lld stitches%s: give at most --columns "
        "%lld.",
        ncols, redraw_length(job, ncols / rational_double(job->per_in)), gauge, piece,
        (long long)rational_floor(most),
        job->plus_sts > 0 ? arena_printf(arena, ", %d of them at the sides", job->plus_sts) : "", (long long)room);
}

static void judge_size(struct redraw_job *job)
{
    struct arena *arena = job->work->arena;
    const struct redraw_asked *asked = job->asked;
    double wide = rational_double(job->exact_cols), tall = rational_double(job->exact_rows);
    struct rational most = rational_mul(job->target_in, job->per_in);
    int ncols = asked->ncols > 0 ? asked->ncols : 1;
    int64_t room = rational_floor(most) - job->plus_sts;

    if ((asked->ncols == 0 && wide < 1.0) || (asked->nrows == 0 && tall < 1.0))
        job->why = arena_printf(arena,
                                "at that gauge the motif would be %.2g stitches by %.2g %s: nothing of it is "
                                "left. Give a finer gauge, or --columns and --rows.",
                                wide, tall, rounds_word(job, 2));
    else if (wide > RESIZE_SIDE_MAX || tall > RESIZE_SIDE_MAX)
        job->why = arena_printf(arena,
                                "at that gauge the motif would be %.0f stitches by %.0f %s; up to %d of each "
                                "are drawn.",
                                wide, tall, rounds_word(job, 2), RESIZE_SIDE_MAX);
    else if (room < ncols)
        refuse_wide(job, most, room, ncols);
    else if (asked->ncols == 0 && asked->has_around && wide > (double)room * (1 + COST_SAID))
        refuse_wide(job, most, room, (int)rational_nearest(job->exact_cols));
}

/* --- stitches --------------------------------------------------------------------------------- */

static struct redraw_way way_of(const struct redraw_job *job, int ncols)
{
    struct rational target = rational_mul(job->target_in, job->per_in);
    struct redraw_way way = {.ncols = ncols};

    way.stitches = sizing_nearest_multiple(target, ncols, job->plus_sts);
    way.repeats = (way.stitches - job->plus_sts) / ncols;
    way.finished_in = (double)way.stitches / rational_double(job->per_in);
    way.off_part = way.finished_in / rational_double(job->target_in) - 1.0;
    way.wide_part = ncols / rational_double(job->exact_cols) - 1.0;
    return way;
}

static double away(const struct redraw_way *way)
{
    return fabs(way->off_part) + fabs(way->wide_part);
}

/* Into its place among the ways from `from` on, the least wrong first; the last may fall out. */
static void way_insert(struct plan_redraw *redraw, struct redraw_way way, int from)
{
    int at = redraw->nways < REDRAW_WAYS_MAX ? redraw->nways++ : REDRAW_WAYS_MAX;

    while (at > from && away(&way) < away(&redraw->ways[at - 1])) {
        if (at < REDRAW_WAYS_MAX)
            redraw->ways[at] = redraw->ways[at - 1];
        at--;
    }
    if (at < REDRAW_WAYS_MAX)
        redraw->ways[at] = way;
}

/* The counts that keep every symmetry within a tenth of the true width, the one that is least
 * wrong in its own width and in the piece's first; a count she gave before all others. */
static void ways_set(struct redraw_job *job, int nearest)
{
    struct plan_redraw *redraw = job->redraw;
    double exact = rational_double(job->exact_cols);
    int given = job->asked->ncols, first = given > 0 ? given : nearest;

    way_insert(redraw, way_of(job, first), 0);
    for (int n = (int)(exact * (1 - WIDE_REACH)); n <= exact * (1 + WIDE_REACH); n++)
        if (n >= exact * (1 - WIDE_REACH) && n >= 1 && n <= RESIZE_SIDE_MAX && n != first && keeps_all(job, true, n))
            way_insert(redraw, way_of(job, n), given > 0 ? 1 : 0);
}

/* --- rows --------------------------------------------------------------------------------------- */

static struct redraw_height height_of(const struct redraw_job *job, int nrows)
{
    double was_in = job->old->drawn.nrows / rational_double(job->old_rows_per_in);
    struct redraw_height height = {.nrows = nrows,
                                   .finished_in = nrows / rational_double(job->rows_per_in)};

    height.off_part = height.finished_in / was_in - 1.0;
    return height;
}

static void height_insert(struct plan_redraw *redraw, struct redraw_height height)
{
    int at = redraw->nheights < REDRAW_HEIGHTS_MAX ? redraw->nheights++ : REDRAW_HEIGHTS_MAX;

    while (at > 1 && fabs(height.off_part) < fabs(redraw->heights[at - 1].off_part)) {
        if (at < REDRAW_HEIGHTS_MAX)
            redraw->heights[at] = redraw->heights[at - 1];
        at--;
    }
    if (at < REDRAW_HEIGHTS_MAX)
        redraw->heights[at] = height;
}

/* The one taken, then those nearest the true height that keep every symmetry. */
static void heights_set(struct redraw_job *job, int taken)
{
    double exact = rational_double(job->exact_rows);

    job->redraw->heights[job->redraw->nheights++] = height_of(job, taken);
    for (int n = (int)fmax(1, ceil(exact * (1 - HEIGHT_REACH))); n <= exact * (1 + HEIGHT_REACH); n++)
        if (n != taken && n <= RESIZE_SIDE_MAX && keeps_all(job, false, n))
            height_insert(job->redraw, height_of(job, n));
}

/* --- all of it ---------------------------------------------------------------------------------- */

/* The count that trade has may be the next above what is drawn: then the most that keeps every symmetry. */
static int within_most(const struct redraw_job *job, bool along, int count)
{
    int most = RESIZE_SIDE_MAX;

    if (count <= most)
        return count;
    while (most > RESIZE_SIDE_MAX / 2 && !keeps_all(job, along, most))
        most--;
    return keeps_all(job, along, most) ? most : RESIZE_SIDE_MAX;
}

static struct redraw_line line_of(int was, int now, struct rational exact, struct rational old_per_in,
                                  struct rational per_in)
{
    struct redraw_line line = {.was = was, .now = now, .exact = rational_double(exact)};

    line.was_in = was / rational_double(old_per_in);
    line.now_in = now / rational_double(per_in);
    line.off_part = line.now_in / line.was_in - 1.0;
    return line;
}

/* So many keep each symmetry that the new chart keeps, if not the place of the centre line. */
static bool keeps_those(const struct redraw_job *job, bool along, int count)
{
    const struct grid *old = job->question.old;
    struct motif_line columns = motif_line_of(&job->motif, true, old->ncols, job->question.ncols);
    struct motif_line rows = motif_line_of(&job->motif, false, old->nrows, job->question.nrows);
    struct motif_line there = motif_line_of(&job->motif, along, along ? old->ncols : old->nrows,
                                            along ? count : redraw_rows_between(job, count));

    for (int i = 0; i < job->motif.nmoves; i++)
        if (columns.keeps[i] && rows.keeps[i] && !there.keeps[i])
            return false;
    return true;
}

/* Where the size pays for a symmetry: the nearest count within a tenth that gives up a centre line's place only, else
 * the count next to the exact one. */
static void nearer_set(const struct redraw_job *job, bool along, struct redraw_line *line)
{
    int nearest = (int)rational_nearest(along ? job->exact_cols : job->exact_rows);
    double away_least = COST_SAID;

    if (fabs(line->off_part) <= COST_SAID || (along ? job->asked->ncols : job->asked->nrows) > 0 ||
        nearest == line->now || nearest < least_count(job, along) || keeps_all(job, along, nearest))
        return;
    line->nearer = nearest;
    for (int n = least_count(job, along); n <= line->exact * (1 + COST_SAID); n++)
        if (fabs(n / line->exact - 1) < away_least && keeps_those(job, along, n)) {
            away_least = fabs(n / line->exact - 1);
            line->nearer = n;
            line->nearer_moves_middle = true;
        }
    line->nearer_in = line->nearer / rational_double(along ? job->per_in : job->rows_per_in);
    line->nearer_off_part = line->nearer_in / line->was_in - 1.0;
}

/* The one count she gave may rule a symmetry out: then the other has not to pay for it. */
static void beside_given(const struct redraw_job *job, int *ncols, int *nrows)
{
    const struct grid *old = job->question.old;
    const struct redraw_asked *asked = job->asked;
    struct motif_line line;
    int found;

    if ((asked->ncols > 0) == (asked->nrows > 0))
        return;
    line = asked->ncols > 0 ? motif_line_of(&job->motif, true, old->ncols, asked->ncols)
                            : motif_line_of(&job->motif, false, old->nrows, redraw_rows_between(job, asked->nrows));
    found = motif_count_needed(&job->motif, asked->nrows > 0, asked->nrows > 0 ? old->ncols : old->nrows,
                               asked->nrows > 0 ? job->exact_cols : redraw_exact_between(job, job->exact_rows),
                               rational_make(1, 6), line.keeps);
    if (found > 0 && asked->nrows > 0)
        *ncols = found;
    else if (found > 0)
        *nrows = found;
}

/* From the count taken outwards, up to half of the exact one away. */
static int nearest_keeping(const struct redraw_job *job, bool along, int from, double exact)
{
    for (int step = 0; step <= exact / 2; step++)
        for (int sign = 1; sign >= -1; sign -= 2) {
            int nearest = (int)llround(exact) + sign * step;

            if (step == 0 && keeps_all(job, along, from))
                return from;
            if (nearest >= least_count(job, along) && nearest <= RESIZE_SIDE_MAX && keeps_all(job, along, nearest))
                return nearest;
        }
    return 0;
}

/* Columns and rows keep a symmetry each by themselves, so the nearest of each are the nearest pair. */
static void keeping_set(struct redraw_job *job)
{
    struct plan_redraw *redraw = job->redraw;
    int ncols = redraw->columns.now, nrows = redraw->rows.now;
    double exact_cols = job->asked->ncols > 0 ? ncols : redraw->columns.exact;
    double exact_rows = job->asked->nrows > 0 ? nrows : redraw->rows.exact;
    struct motif_line columns = motif_line_of(&job->motif, true, job->question.old->ncols, ncols);
    struct motif_line rows = motif_line_of(&job->motif, false, job->question.old->nrows, job->question.nrows);
    bool all = true;

    for (int i = 0; i < job->motif.nmoves; i++)
        all = all && columns.keeps[i] && rows.keeps[i];
    if (all)
        return;
    ncols = nearest_keeping(job, true, ncols, exact_cols);
    nrows = nearest_keeping(job, false, nrows, exact_rows);
    redraw->keeps_cols = ncols > 0 && nrows > 0 ? ncols : 0;
    redraw->keeps_rows = ncols > 0 && nrows > 0 ? nrows : 0;
}

static void upwards_set(const struct redraw_job *job)
{
    const struct redraw_line *rows = &job->redraw->rows;
    struct redraw_upwards *upwards = &job->redraw->upwards;
    struct rational row = rational_div(rational_whole(rows->now), job->rows_per_in);
    struct rational all = rational_div(rational_whole((int64_t)job->old->upwards * rows->was), job->old_rows_per_in);
    int64_t best = rational_nearest(rational_div(all, row));

    upwards->was = job->old->upwards;
    upwards->was_in = upwards->was * rows->was_in;
    upwards->now_in = upwards->was * rows->now_in;
    upwards->off_part = rows->off_part;
    upwards->best = best < 1 ? 1 : (int)best;
    upwards->best_in = upwards->best * rows->now_in;
    upwards->best_off_part = upwards->best_in / upwards->was_in - 1.0;
}

void redraw_size(struct redraw_job *job)
{
    const struct grid *old = &job->old->drawn;
    struct plan_redraw *redraw = job->redraw;
    int nearest, nrows;

    judge_size(job);
    if (job->why)
        return;
    resize_counts(job->question.old, job->question.rows_are_ring, job->exact_cols,
                  redraw_exact_between(job, job->exact_rows), &nearest, &nrows);
    beside_given(job, &nearest, &nrows);
    if (job->question.old != old) /* plain rows make up the height */
        nrows = rational_nearest(job->exact_rows) > nrows ? (int)rational_nearest(job->exact_rows) : nrows;
    nrows = within_most(job, false, nrows);
    ways_set(job, within_most(job, true, nearest));
    heights_set(job, job->asked->nrows > 0 ? job->asked->nrows : nrows);
    job->question.ncols = redraw->ways[0].ncols;
    job->question.nrows = redraw_rows_between(job, redraw->heights[0].nrows);
    redraw->columns = line_of(old->ncols, job->question.ncols, job->exact_cols, job->old_per_in, job->per_in);
    redraw->rows =
        line_of(old->nrows, redraw->heights[0].nrows, job->exact_rows, job->old_rows_per_in, job->rows_per_in);
    nearer_set(job, true, &redraw->columns);
    nearer_set(job, false, &redraw->rows);
    upwards_set(job);
    keeping_set(job);
    redraw->stretch_part = (1 + redraw->columns.off_part) / (1 + redraw->rows.off_part) - 1;
    redraw->stretched = fabs(redraw->stretch_part) > STRETCH_SAID;
}
