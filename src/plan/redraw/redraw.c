/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The redraw: size, search, what is to be said, and the band planned again with its new chart.
 */
#include "redraw.h"

#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "base/text.h"
#include "plan/builder.h"
#include "redraw_parts.h"
#include "words/say.h"

const char *redraw_length(const struct redraw_job *job, double inches)
{
    return say_length(job->work->arena, inches, job->plan->cm_first);
}

/* --- the question ------------------------------------------------------------------------------- */

static bool has_empty_squares(const struct grid *grid)
{
    for (int i = 0; i < grid->ncols * grid->nrows; i++)
        if (grid->cell[i] == GRID_NO_STITCH)
            return true;
    return false;
}

static void judge_chart(struct redraw_job *job)
{
    const struct grid *drawn = &job->old->drawn;
    struct arena *arena = job->work->arena;

    if (drawn->ncols > RESIZE_SIDE_MAX || drawn->nrows > RESIZE_SIDE_MAX)
        job->why = arena_printf(arena, "the chart of %s has %d stitches and %d %s; up to %d of each are redrawn.",
                                job->old->name, drawn->ncols, drawn->nrows,
                                say_rounds(job->plan->round)->many, RESIZE_SIDE_MAX);
    else if (has_empty_squares(drawn))
        job->why = arena_printf(arena,
                                "the chart of %s has empty squares: shaping is not redrawn. Chart one repeat "
                                "without it.",
                                job->old->name);
}

/* The longest run left loose at the new gauge, as the plan has it. */
static int leave_sts(const struct redraw_job *job)
{
    const struct project *project = job->plan->project;
    int64_t leave;

    if (rational_is_value(project->catch_at.in))
        leave = gauge_catch_at_sts(project->catch_at.in, job->of[true].per_in);
    else
        leave = gauge_leave_up_to_sts(project->leave_up_to.in, job->of[true].per_in);
    return leave < 1 ? 1 : leave > RESIZE_SIDE_MAX ? RESIZE_SIDE_MAX : (int)leave;
}

static struct redraw_direction direction_of(int was, int asked, struct rational old_per_in, struct rational per_in)
{
    return (struct redraw_direction){.was = was,
                                     .asked = asked,
                                     .old_per_in = old_per_in,
                                     .per_in = per_in,
                                     .exact = rational_div(rational_mul(rational_whole(was), per_in), old_per_in)};
}

static void gauges_set(struct redraw_job *job)
{
    const struct redraw_asked *asked = job->asked;
    const struct plan_gauge *was = &job->plan->piece.gauge;
    const double mm_per_in = 25.4;
    struct rational old_per_in = was->gauge.stitches.per_in, old_rows_per_in = was->gauge.rows.per_in;
    struct plan_redraw *redraw = job->redraw;
    struct redraw_gauge *now = &redraw->gauge_now;

    job->of[true] = direction_of(job->old->drawn.ncols, asked->ncols, old_per_in,
                                 asked->has_gauge ? asked->per_in : old_per_in);
    job->of[false] = direction_of(job->old->drawn.nrows, asked->nrows, old_rows_per_in,
                                  asked->has_gauge ? asked->rows_per_in : old_rows_per_in);
    redraw->has_gauge = asked->has_gauge;
    redraw->gauge_was = (struct redraw_gauge){was->per_in, was->rows_per_in, was->stitch_width_mm, was->row_height_mm};
    now->per_in = rational_double(job->of[true].per_in);
    now->rows_per_in = rational_double(job->of[false].per_in);
    now->stitch_width_mm = mm_per_in / now->per_in;
    now->row_height_mm = mm_per_in / now->rows_per_in;
    if (!rational_is_value(job->of[true].exact) || !rational_is_value(job->of[false].exact))
        job->why = "these counts are too fine to be kept exactly: give quarters or eighths.";
}

/* What the piece measures now, where nothing else is asked for. */
static void target_set(struct redraw_job *job)
{
    const struct plan_band *band = job->old;
    const struct given_whole *selvedge = &job->plan->project->selvedge;

    job->plus_sts = band->side_sts + (!job->plan->round ? 2 * selvedge->value : 0);
    job->target_in =
        job->asked->has_around
            ? job->asked->around_in
            : rational_div(band->has_target && !band->repeats_given
                               ? band->target_sts
                               : rational_whole((int64_t)band->stitches + job->plus_sts),
                           job->of[true].old_per_in);
    job->redraw->target_in = rational_double(job->target_in);
}

static void question_set(struct redraw_job *job)
{
    const struct plan_piece *piece = &job->plan->piece;

    job->question.rows_are_ring = job->old->upwards > 1;
    job->question.old_leave_sts = job->old->leave_sts;
    job->question.leave_sts = leave_sts(job);
    for (int y = 0; y < GRID_YARNS_MAX; y++)
        job->question.knitted_as[y] =
            (uint8_t)(y < piece->nyarns && piece->yarns[y].over >= 0 ? piece->yarns[y].over : y);
    redraw_plain_set(job);
}

/* --- planned again ------------------------------------------------------------------------------ */

/* The project with this band alone, its repeats those of the redraw: what stands above and below it is not
 * asked. */
static const struct project *project_of_band(const struct redraw_job *job)
{
    struct arena *arena = job->work->arena;
    struct project *project = arena_alloc(arena, 1, sizeof *project);
    struct part *part = arena_alloc(arena, 1, sizeof *part);

    *project = *job->plan->project;
    *part = project->parts[job->old->part];
    part->repeats = (struct given_whole){.value = (int)job->redraw->ways.of[0].repeats, .at = part->at};
    part->remedy.word = REMEDY_NONE;
    part->before.rounds = part->after.rounds = 0;
    part->count.value = COUNT_OWN;
    project->parts = part;
    project->nparts = 1;
    project->counts.value = COUNTS_EACH;
    project->cast_on.rib_rounds = 0;
    return project;
}

/* What the project says of the band's count beside the new chart. */
static void count_said(struct redraw_job *job)
{
    const struct project *project = job->plan->project;
    const struct part *part = &project->parts[job->old->part];
    struct plan_redraw *redraw = job->redraw;
    bool shared = part->count.value == COUNT_AS_BELOW;

    for (int i = 0; i < project->nparts; i++)
        if (i > job->old->part && project->parts[i].kind == PART_BAND) {
            shared = shared || project->parts[i].count.value == COUNT_AS_BELOW;
            break; /* the next band alone can take this one's */
        }
    redraw->counted_with_others = shared || (project->counts.value == COUNTS_TOGETHER &&
                                             job->plan->piece.nbands > 1);
    redraw->remedy = part->remedy.word != REMEDY_NONE;
    redraw->remade = job->old->remedy && job->old->remedy->remake.kind != REMAKE_NOTHING;
    if (part->repeats.value > 0 && part->repeats.value != redraw->ways.of[0].repeats)
        redraw->repeats = (int)redraw->ways.of[0].repeats;
}

static const struct chart *chart_of(const struct redraw_job *job)
{
    struct chart *chart = arena_alloc(job->work->arena, 1, sizeof *chart);

    chart->name = job->old->chart_name;
    chart->at = job->plan->project->parts[job->old->part].chart[0].at;
    chart->repeat = job->redraw->answer.chart;
    redraw_sides(job, &chart->left, &chart->right);
    return chart;
}

/* Its grids alone, for a band that cannot be planned. */
static void band_of_grids(const struct redraw_job *job, const struct chart *chart, struct plan_band *band)
{
    struct builder builder = {.work = job->work, .project = job->plan->project};

    *band = *job->old;
    band->drawn = chart->repeat;
    band->left = chart->left;
    band->right = chart->right;
    band->knitted = plan_knitted_grid(&builder, &chart->repeat);
    band->left_knitted = plan_knitted_grid(&builder, &chart->left);
    band->right_knitted = plan_knitted_grid(&builder, &chart->right);
    band->repeat_sts = chart->repeat.ncols;
    band->rows = chart->repeat.nrows;
    band->repeats = (int)job->redraw->ways.of[0].repeats;
    band->stitches = band->repeats * band->repeat_sts;
    band->catches = arena_alloc(job->work->arena, 1, sizeof *band->catches);
    band->outer = NULL;
    band->tight = NULL;
    band->ntight = 0;
}

static struct redraw_floats floats_of(const struct plan_band *band, double per_in)
{
    return (struct redraw_floats){
        .longest_sts = band->worked_longest_sts,
        .longest_in = band->worked_longest_sts / per_in,
        .over_limit = band->worked_over_limit * band->upwards,
        .catches_repeat = band->catches_repeat,
        .catches_piece = band->catches_piece,
    };
}

static void plan_again(struct redraw_job *job)
{
    struct arena *arena = job->work->arena;
    struct plan_redraw *redraw = job->redraw;
    struct plan_band *band = arena_alloc(arena, 1, sizeof *band);
    struct plan_piece *piece = arena_alloc(arena, 1, sizeof *piece);
    const struct chart *chart = chart_of(job);
    struct plan_piece own_piece = job->plan->piece;
    struct builder own = {.work = job->work, .project = job->plan->project, .piece = &own_piece};

    redraw->planned = plan_variant(
        &own,
        &(struct variant){.project = project_of_band(job),
                          .charts = &chart,
                          .at = plan_variant_gauge(job->work, "", job->of[true].per_in, job->of[false].per_in)},
        piece, &redraw->why_not);
    redraw->was = floats_of(job->old, job->plan->piece.gauge.per_in);
    if (redraw->planned) {
        *band = piece->bands[0];
        redraw->now = floats_of(band, redraw->gauge_now.per_in);
    } else {
        band_of_grids(job, chart, band);
    }
    band->part = job->old->part;
    band->first_round = job->old->first_round;
    redraw->band = band;
}

/* --- all of it ---------------------------------------------------------------------------------- */

/* The old chart as it was proof-read, where it just misses a symmetry; not where a way round has changed it. */
static const struct proof_chart *nearly_of(const struct redraw_job *job, const struct proofreading *proof)
{
    const struct plan_band *old = job->old;

    for (int i = 0; proof && !old->remedy && i < proof->ncharts; i++) {
        const struct proof_chart *chart = &proof->charts[i];

        if (chart->field.grid && chart->chart && chart->chart->name == old->chart_name && chart->whole &&
            chart->nfaults > 0)
            return chart;
    }
    return NULL;
}

const struct plan_redraw *plan_redraw_make(struct work *work, const struct plan *plan,
                                           const struct proofreading *proof,
                                           const struct redraw_asked *asked, const char **why)
{
    struct plan_redraw *redraw = arena_alloc(work->arena, 1, sizeof *redraw);
    struct redraw_job job = {.work = work,
                             .plan = plan,
                             .asked = asked,
                             .old = &plan->piece.bands[asked->band],
                             .redraw = redraw};

    redraw->old = job.old;
    redraw->round = plan->round;
    redraw->limit_in = plan->piece.limit_in;
    judge_chart(&job);
    if (!job.why)
        gauges_set(&job);
    if (!job.why) {
        question_set(&job);
        target_set(&job);
        redraw_size(&job);
    }
    if (!job.why)
        redraw_judge_motif(&job);
    *why = job.why;
    if (job.why)
        return NULL;
    redraw->answer = *resize_chart(work, &job.question);
    redraw_plain_back(&job);
    redraw_look_over(&job);
    plan_again(&job);
    count_said(&job);
    redraw->nearly = nearly_of(&job, proof);
    return redraw;
}
