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
    int n = job->of[!along].was, count = 0;
    int *runs = arena_alloc(job->work->arena, (size_t)n, sizeof *runs);

    for (int i = 0; i < n; i++) {
        int here = resize_runs(&job->old->drawn, along, along || job->question.rows_are_ring, i);

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
    int half = (job->of[along].was + 1) / 2, runs = runs_usual(job, along);

    return runs < half ? runs : half;
}

/* Of the chart that is searched for: without plain rows. */
static int old_count(const struct redraw_job *job, bool along)
{
    return along ? job->question.old->ncols : job->question.old->nrows;
}

static int count_between(const struct redraw_job *job, bool along, int count)
{
    return along ? count : redraw_rows_between(job, count);
}

static bool keeps_all(const struct redraw_job *job, bool along, int count)
{
    count = count_between(job, along, count);
    return motif_count_near(&job->motif, along, old_count(job, along), rational_whole(count), rational_whole(0)) ==
           count;
}

static struct motif_line line_with(const struct redraw_job *job, bool along, int count)
{
    return motif_line_of(&job->motif, along, old_count(job, along), count_between(job, along, count));
}

/* That, if it may be, else the least that may and keeps every symmetry. */
static int least_offered(const struct redraw_job *job, bool along, int count)
{
    int least = job->of[along].least;

    if (count >= least)
        return count;
    while (least < job->of[along].was && !keeps_all(job, along, least))
        least++;
    return least;
}

static const char *rounds_word(const struct redraw_job *job, int n)
{
    return n == 1 ? say_rounds(job->plan->round)->one : say_rounds(job->plan->round)->many;
}

static const char *size_words(const struct redraw_job *job, bool along, int count)
{
    return redraw_length(job, count / rational_double(job->of[along].per_in));
}

void redraw_judge_motif(struct redraw_job *job)
{
    struct arena *arena = job->work->arena;
    int ncols = job->redraw->columns.now, cols = least_offered(job, true, ncols);
    int nrows = job->redraw->rows.now, rows = least_offered(job, false, nrows);

    if (ncols == cols && nrows == rows)
        return;
    job->why = arena_printf(
        arena,
        "%d stitch%s by %d %s cannot show this motif, which has %d by %d: every run of colour needs a stitch "
        "of its own. Give at least%s%s%s.",
        ncols, ncols == 1 ? "" : "es", nrows, rounds_word(job, nrows), job->of[true].was, job->of[false].was,
        ncols < cols ? arena_printf(arena, " --columns %d", cols) : "",
        nrows < rows ? arena_printf(arena, " --rows %d", rows) : "",
        (ncols < cols && job->asked->ncols == 0) || (nrows < rows && job->asked->nrows == 0)
            ? arena_printf(arena, "; the motif is then %s by %s. Or take a finer gauge", size_words(job, true, cols),
                           size_words(job, false, rows))
            : "");
}

static void refuse_wide(struct redraw_job *job, struct rational most, int64_t room, int ncols)
{
    struct arena *arena = job->work->arena;
    const char *gauge = job->asked->has_gauge ? "that gauge" : "the project's gauge";
    const char *piece = redraw_length(job, rational_double(job->target_in));
    const char *sides = job->plus_sts > 0 ? arena_printf(arena, ", %d of them at the sides", job->plus_sts) : "";

    if (room < 2)
        job->why = arena_printf(
            arena, "%s is %lld stitches at %s%s: there is no room for a motif. Check the measure and its unit.", piece,
            (long long)rational_floor(most), gauge, sides);
    else
        job->why = arena_printf(
            arena,
            "a repeat of %d stitches is %s wide at %s, and the piece is %s, %lld stitches%s: give at most --columns "
            "%lld.",
            ncols, size_words(job, true, ncols), gauge, piece, (long long)rational_floor(most), sides,
            (long long)room);
}

static void judge_size(struct redraw_job *job)
{
    struct arena *arena = job->work->arena;
    const struct redraw_asked *asked = job->asked;
    double wide = rational_double(job->of[true].exact), tall = rational_double(job->of[false].exact);
    struct rational most = rational_mul(job->target_in, job->of[true].per_in);
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
        refuse_wide(job, most, room, (int)rational_nearest(job->of[true].exact));
}

/* --- ways ------------------------------------------------------------------------------------- */

static struct redraw_way way_of(const struct redraw_job *job, bool along, int count)
{
    const struct redraw_direction *of = &job->of[along];
    double per_in = rational_double(of->per_in), target_in = of->was / rational_double(of->old_per_in);
    struct redraw_way way = {.count = count, .finished_in = count / per_in};

    if (along) { /* the piece's measure counts, not the repeat's */
        target_in = rational_double(job->target_in);
        way.stitches = sizing_nearest_multiple(rational_mul(job->target_in, of->per_in), count, job->plus_sts);
        way.repeats = (way.stitches - job->plus_sts) / count;
        way.finished_in = (double)way.stitches / per_in;
        way.wide_part = count / rational_double(of->exact) - 1.0;
    }
    way.off_part = way.finished_in / target_in - 1.0;
    return way;
}

static double away(const struct redraw_way *way)
{
    return fabs(way->off_part) + fabs(way->wide_part);
}

/* Into its place among the ways from `from` on, the least wrong first; the last may fall out. */
static void way_insert(struct redraw_ways *ways, struct redraw_way way, int from)
{
    int at = ways->n < REDRAW_WAYS_MAX ? ways->n++ : REDRAW_WAYS_MAX;

    for (; at > from && away(&way) < away(&ways->of[at - 1]); at--)
        if (at < REDRAW_WAYS_MAX)
            ways->of[at] = ways->of[at - 1];
    if (at < REDRAW_WAYS_MAX)
        ways->of[at] = way;
}

/* The one taken, and those within reach of the exact count that keep every symmetry; a number of stitches that was
 * not given may be less good than another, which is then taken. */
static void ways_set(const struct redraw_job *job, bool along, int taken, struct redraw_ways *ways)
{
    double exact = rational_double(job->of[along].exact), reach = along ? WIDE_REACH : HEIGHT_REACH;
    int from = along && job->of[along].asked == 0 ? 0 : 1;

    way_insert(ways, way_of(job, along, taken), 0);
    for (int n = (int)fmax(1, ceil(exact * (1 - reach))); n <= exact * (1 + reach); n++)
        if (n != taken && n <= RESIZE_SIDE_MAX && keeps_all(job, along, n))
            way_insert(ways, way_of(job, along, n), from);
}

/* --- all of it ---------------------------------------------------------------------------------- */

/* The count that trade has may be the next above what is drawn: then the most that keeps every symmetry. */
static int within_most(const struct redraw_job *job, bool along, int count)
{
    if (count <= RESIZE_SIDE_MAX)
        return count;
    for (int most = RESIZE_SIDE_MAX; most >= RESIZE_SIDE_MAX / 2; most--)
        if (keeps_all(job, along, most))
            return most;
    return RESIZE_SIDE_MAX;
}

static struct redraw_line line_of(const struct redraw_direction *of, int now)
{
    struct redraw_line line = {.was = of->was, .now = now, .exact = rational_double(of->exact)};

    line.was_in = line.was / rational_double(of->old_per_in);
    line.now_in = now / rational_double(of->per_in);
    line.off_part = line.now_in / line.was_in - 1.0;
    return line;
}

/* By move: the new chart keeps it. Returned: does it keep all? */
static bool kept_now(const struct redraw_job *job, bool *keeps)
{
    struct motif_line columns = line_with(job, true, job->redraw->columns.now);
    struct motif_line rows = line_with(job, false, job->redraw->rows.now);
    bool all = true;

    for (int i = 0; i < job->motif.nmoves; i++) {
        keeps[i] = columns.keeps[i] && rows.keeps[i];
        all = all && keeps[i];
    }
    return all;
}

/* So many keep each symmetry that the new chart keeps, if not the place of the centre line. */
static bool keeps_those(const struct redraw_job *job, bool along, int count)
{
    bool keeps[SYMMETRY_GENERATORS_MAX];
    struct motif_line there = line_with(job, along, count);

    kept_now(job, keeps);
    for (int i = 0; i < job->motif.nmoves; i++)
        if (keeps[i] && !there.keeps[i])
            return false;
    return true;
}

/* Where the size pays for a symmetry: the nearest count within a tenth that gives up a centre line's place only, else
 * the count next to the exact one. */
static void nearer_set(const struct redraw_job *job, bool along, struct redraw_line *line)
{
    const struct redraw_direction *of = &job->of[along];
    int nearest = (int)rational_nearest(of->exact);
    double away_least = COST_SAID;

    if (fabs(line->off_part) <= COST_SAID || of->asked > 0 || nearest == line->now || nearest < of->least ||
        keeps_all(job, along, nearest))
        return;
    line->nearer = nearest;
    for (int n = of->least; n <= line->exact * (1 + COST_SAID); n++)
        if (fabs(n / line->exact - 1) < away_least && keeps_those(job, along, n)) {
            away_least = fabs(n / line->exact - 1);
            line->nearer = n;
            line->nearer_moves_middle = true;
        }
    line->nearer_in = line->nearer / rational_double(of->per_in);
    line->nearer_off_part = line->nearer_in / line->was_in - 1.0;
}

/* The one count she gave may rule a symmetry out: then the other has not to pay for it. */
static void beside_given(const struct redraw_job *job, int *ncols, int *nrows)
{
    bool along = job->of[false].asked > 0; /* the other one */
    struct rational exact = along ? job->of[true].exact : redraw_exact_between(job, job->of[false].exact);
    struct motif_line line;
    int found;

    if ((job->of[true].asked > 0) == along)
        return;
    line = line_with(job, !along, job->of[!along].asked);
    found = motif_count_needed(&job->motif, along, old_count(job, along), exact, rational_make(1, 6), line.keeps);
    if (found > 0)
        *(along ? ncols : nrows) = found;
}

/* From the count taken outwards, up to half of the exact one away; of a given one: from that. 0: none. */
static int nearest_keeping(const struct redraw_job *job, bool along, const struct redraw_line *line)
{
    double exact = job->of[along].asked > 0 ? line->now : line->exact;

    if (keeps_all(job, along, line->now))
        return line->now;
    for (int step = 0; step <= exact / 2; step++)
        for (int sign = 1; sign >= -1; sign -= 2) {
            int nearest = (int)llround(exact) + sign * step;

            if (nearest >= job->of[along].least && nearest <= RESIZE_SIDE_MAX && keeps_all(job, along, nearest))
                return nearest;
        }
    return 0;
}

/* Columns and rows keep a symmetry each by themselves, so the nearest of each are the nearest pair. */
static void keeping_set(struct redraw_job *job)
{
    struct plan_redraw *redraw = job->redraw;
    bool keeps[SYMMETRY_GENERATORS_MAX];
    int ncols, nrows;

    if (kept_now(job, keeps))
        return;
    ncols = nearest_keeping(job, true, &redraw->columns);
    nrows = nearest_keeping(job, false, &redraw->rows);
    redraw->keeps_cols = nrows > 0 ? ncols : 0;
    redraw->keeps_rows = ncols > 0 ? nrows : 0;
}

static void upwards_set(const struct redraw_job *job)
{
    const struct redraw_line *rows = &job->redraw->rows;
    struct redraw_upwards *upwards = &job->redraw->upwards;
    struct rational row = rational_div(rational_whole(rows->now), job->of[false].per_in);
    struct rational all =
        rational_div(rational_whole((int64_t)job->old->upwards * rows->was), job->of[false].old_per_in);
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
    struct plan_redraw *redraw = job->redraw;
    const struct redraw_direction *rows = &job->of[false], *columns = &job->of[true];
    int ncols, nrows;

    judge_size(job);
    if (job->why)
        return;
    job->of[true].least = least_count(job, true);
    job->of[false].least = least_count(job, false);
    resize_counts(job->question.old, job->question.rows_are_ring, columns->exact,
                  redraw_exact_between(job, rows->exact), &ncols, &nrows);
    beside_given(job, &ncols, &nrows);
    if (job->question.old != &job->old->drawn) /* plain rows make up the height */
        nrows = rational_nearest(rows->exact) > nrows ? (int)rational_nearest(rows->exact) : nrows;
    ways_set(job, true, columns->asked > 0 ? columns->asked : within_most(job, true, ncols), &redraw->ways);
    ways_set(job, false, rows->asked > 0 ? rows->asked : within_most(job, false, nrows), &redraw->heights);
    redraw->columns = line_of(columns, redraw->ways.of[0].count);
    redraw->rows = line_of(rows, redraw->heights.of[0].count);
    job->question.ncols = redraw->columns.now;
    job->question.nrows = redraw_rows_between(job, redraw->rows.now);
    nearer_set(job, true, &redraw->columns);
    nearer_set(job, false, &redraw->rows);
    upwards_set(job);
    keeping_set(job);
    redraw->stretch_part = (1 + redraw->columns.off_part) / (1 + redraw->rows.off_part) - 1;
    redraw->stretched = fabs(redraw->stretch_part) > STRETCH_SAID;
}
