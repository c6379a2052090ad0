/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How much of each yarn is likely, how many balls are enough, and what would make it surer.
 */
#include "plan/builder.h"

#include <math.h>

#include "base/arena.h"

static const double MM_PER_IN = 25.4; /* exact by definition */
static const double MM_PER_M = 1000.0;
static const double balls_most = 1e12; /* as yarn_balls() counts */

/* --- errors of the causes ---------------------------------------------------------------- */

static double gauge_sd(const struct builder *builder, const struct gauge_axis *axis, int more_places)
{
    double place_sd = builder_may_be_out(builder, "gauge_place_error");
    double sd = likely_gauge_sd(axis->nplaces, axis->half_width, place_sd);

    return sd * sqrt((double)axis->nplaces / (axis->nplaces + more_places));
}

/* Nothing measured: one law of density for both fabrics, so their errors are one. */
static void errors_of_gauge(const struct plan_loop *loop, struct likely_errors *errors)
{
    double sd = likely_sd_of_nine_in_ten(loop->error_part);

    for (int a = LIKELY_LOOP; a <= LIKELY_PLAIN_LOOP; a++)
        for (int b = LIKELY_LOOP; b <= LIKELY_PLAIN_LOOP; b++)
            errors->covariance[a][b] = sd * sd;
    errors->covariance[LIKELY_SLACK][LIKELY_SLACK] =
        pow(loop->errors.slack_sd / loop->slack_ratio, 2.0);
    errors->covariance[LIKELY_BALL][LIKELY_BALL] = loop->errors.ball_sd * loop->errors.ball_sd;
}

static void errors_of_fit(const struct loop_fit *fit, int group, int plain_group,
                          struct likely_errors *errors)
{
    const int place[] = {[LIKELY_LOOP] = group,
                         [LIKELY_PLAIN_LOOP] = plain_group,
                         [LIKELY_SLACK] = LOOP_FIT_SLACK,
                         [LIKELY_BALL] = LOOP_FIT_BALL};

    for (int a = LIKELY_LOOP; a <= LIKELY_BALL; a++)
        for (int b = LIKELY_LOOP; b <= LIKELY_BALL; b++)
            errors->covariance[a][b] = fit->covariance[place[a]][place[b]];
}

static struct likely_errors errors_of(const struct builder *builder, const struct loop_fit *fit,
                                      int group, int plain_group, int more_places)
{
    const struct plan_piece *piece = builder->piece;
    struct likely_errors errors = {{{0}}};
    const struct {
        enum likely_cause cause;
        double sd;
    } own[] = {
        {LIKELY_DRIFT, builder_may_be_out(builder, "tension_drift")},
        {LIKELY_CATCH, builder_may_be_out(builder, "catch_error")},
        {LIKELY_EDGE, builder_may_be_out(builder, "edge_error")},
        {LIKELY_RIB, builder_may_be_out(builder, "rib_error")},
        {LIKELY_WIDTH, gauge_sd(builder, &piece->gauge.gauge.stitches, more_places)},
        {LIKELY_HEIGHT, gauge_sd(builder, &piece->gauge.gauge.rows, more_places)},
    };

    if (fit)
        errors_of_fit(fit, group, plain_group, &errors);
    else
        errors_of_gauge(&piece->loop, &errors);
    for (size_t i = 0; i < sizeof own / sizeof *own; i++)
        errors.covariance[own[i].cause][own[i].cause] = own[i].sd * own[i].sd;
    return errors;
}

/* --- what grows with what ------------------------------------------------------------------ */

static enum likely_cause cause_of(enum yarn_use use)
{
    switch (use) {
    case USE_STITCHES:
    case USE_SELVEDGE:
    case USE_STEEK:
    case USE_DUPLICATE:
    case USE_SWATCH:
        return LIKELY_LOOP;
    case USE_RIB:
    case USE_PLAIN:
        return LIKELY_PLAIN_LOOP;
    case USE_FLOATS:
        return LIKELY_SLACK;
    case USE_CATCHES:
        return LIKELY_CATCH;
    case USE_CAST_ON:
    case USE_BIND_OFF:
    case USE_SEAM:
    case USE_CARRIED:
    case USE_TAILS:
    case USE_COUNT:
        break;
    }
    return LIKELY_EDGE;
}

/* Share of a yarn's plain parts that is knitted to a length: looser rows, fewer of them. */
static double share_by_length(const struct builder *builder, int yarn)
{
    const struct project *project = builder->project;
    double by_length = 0.0, all = 0.0;

    for (int i = 0; i < builder->piece->nsteps; i++) {
        const struct plan_step *step = &builder->piece->steps[i];

        if ((step->kind != STEP_PLAIN && step->kind != STEP_SHAPE) || step->yarn != yarn)
            continue;
        all += (double)step->stitches;
        for (int p = 0; p < project->nparts && step->kind == STEP_PLAIN; p++)
            if (project->parts[p].kind == PART_PLAIN && rational_is_value(project->parts[p].length.in) &&
                project->parts[p].name == step->name)
                by_length += (double)step->stitches;
    }
    return all > 0.0 ? by_length / all : 0.0;
}

/* Stitches and rounds of the bands are counts: once cast on they do not move with the gauge.
 * Only what is reckoned from a width, or knitted to a length, does; and, with nothing measured,
 * the yarn in a stitch itself: half of each. slack_told: the strand was measured, not its width. */
static struct likely_growth growth_of(const struct builder *builder, int index,
                                      const double use_m[USE_COUNT], bool measured,
                                      bool slack_told)
{
    struct likely_growth growth = {{0}};
    double *metres = growth.metres;

    for (int use = 0; use < USE_COUNT; use++)
        metres[cause_of((enum yarn_use)use)] += use_m[use];
    metres[LIKELY_RIB] = use_m[USE_RIB];
    /* The swatch is not tighter or looser than itself. */
    metres[LIKELY_DRIFT] = metres[LIKELY_LOOP] + metres[LIKELY_PLAIN_LOOP] +
                           metres[LIKELY_SLACK] - use_m[USE_SWATCH];
    metres[LIKELY_WIDTH] = -use_m[USE_CATCHES] - use_m[USE_CAST_ON] - use_m[USE_BIND_OFF];
    if (!slack_told)
        metres[LIKELY_WIDTH] -= use_m[USE_FLOATS];
    metres[LIKELY_HEIGHT] = use_m[USE_PLAIN] * share_by_length(builder, index);
    if (!measured) {
        double loops = metres[LIKELY_LOOP] + metres[LIKELY_PLAIN_LOOP];

        metres[LIKELY_WIDTH] -= loops / 2.0;
        metres[LIKELY_HEIGHT] -= loops / 2.0;
    }
    if (plan_swatch_by_size(builder)) { /* so wide and so tall: the more stitches, the closer */
        metres[LIKELY_WIDTH] += use_m[USE_SWATCH];
        metres[LIKELY_HEIGHT] += use_m[USE_SWATCH];
    }
    return growth;
}

static bool strand_was_measured(const struct plan_loop *loop, const struct loop_fit *fit)
{
    return fit && fit->slack_told && !loop->errors.slack_given;
}

/* Duplicate stitch is reckoned from the stitch it covers. */
static const struct plan_yarn_loop *loop_of(const struct builder *builder, int yarn)
{
    int over = builder->piece->yarns[yarn].over;

    return &builder->piece->loop.yarn[over >= 0 ? over : yarn];
}

struct likely_growth plan_range_growth(const struct builder *builder, int yarn,
                                       const double use_m[USE_COUNT])
{
    const struct plan_loop *loop = &builder->piece->loop;
    const struct loop_fit *fit = loop_of(builder, yarn)->fit;

    return growth_of(builder, yarn, use_m, fit != NULL, strand_was_measured(loop, fit));
}

struct likely_errors plan_range_errors(const struct builder *builder, int yarn)
{
    const struct plan_loop *loop = &builder->piece->loop;
    const struct plan_yarn_loop *own = loop_of(builder, yarn);

    return errors_of(builder, own->fit, own->group,
                     loop->plain_group != 0 ? loop->plain_group : own->group, 0);
}

/* --- balls --------------------------------------------------------------------------------- */

struct buying {
    double length_m, log_sd; /* with the error of the balls' own length in it */
    double ball_m, join_m;
    double have_m;           /* in hand: the first ball is joined to it */
};

static double chance_of(const struct buying *buying, int64_t balls)
{
    return likely_chance(buying->length_m, buying->log_sd,
                         buying->have_m + (double)balls * buying->ball_m -
                             (double)(buying->have_m > 0.0 ? balls : balls - 1) * buying->join_m);
}

/* The fewest balls that are enough with this chance; 0: too many to count. */
static int64_t balls_for(const struct buying *buying, double chance)
{
    double need_m = likely_quantile_m(buying->length_m, buying->log_sd, chance);
    bool beside = buying->have_m > 0.0;
    double least = floor((need_m - (beside ? buying->have_m : buying->join_m)) /
                         (buying->ball_m - buying->join_m));
    int64_t balls;

    if (!(least < balls_most))
        return 0;
    balls = least > 2.0 ? (int64_t)least - 1 : beside ? 0 : 1;
    while (chance_of(buying, balls) < chance)
        balls++;
    return balls;
}

static void add_enough(const struct buying *buying, struct plan_enough *list, int *count,
                       int64_t balls)
{
    if (*count > 0 && list[*count - 1].balls >= balls)
        return;
    list[(*count)++] = (struct plan_enough){balls, chance_of(buying, balls)};
}

/* Every number from the fewest worth a thought up; of many, only the telling ones. */
static void list_enough(const struct builder *builder, const struct buying *buying, int64_t bought,
                        struct plan_likely *likely)
{
    enum { LISTED_MOST = 8 };
    const double told[] = {0.5, 0.8, 0.9, likely->confidence, 0.99};
    int64_t first = balls_for(buying, builder_threshold(builder, "enough_least_chance"));
    int64_t last = balls_for(buying, builder_threshold(builder, "enough_most_chance"));
    struct plan_enough *list =
        arena_alloc(builder->work->arena, LISTED_MOST + 1, sizeof *list);
    int n = 0;

    if (last < likely->sure_balls + 1)
        last = likely->sure_balls + 1; /* what one more would buy is said */
    if (last < bought)
        last = bought;
    if (last - first < LISTED_MOST)
        for (int64_t balls = first; balls <= last; balls++)
            add_enough(buying, list, &n, balls);
    else {
        add_enough(buying, list, &n, first);
        for (size_t i = 0; i < sizeof told / sizeof *told; i++)
            add_enough(buying, list, &n, balls_for(buying, told[i]));
        add_enough(buying, list, &n, last);
    }
    likely->enough = list;
    likely->nenough = n;
}

static struct buying buying_of(const struct builder *builder, const struct plan_yarn *yarn,
                               double length_m)
{
    double tail_in = builder_tail_in(builder);

    return (struct buying){length_m, yarn->likely.buy_log_sd, yarn->ball_m,
                           builder_value(builder, "join_tails") * tail_in * MM_PER_IN / MM_PER_M,
                           yarn->have_m};
}

bool plan_range_buy(const struct builder *builder, int index, double length_m, struct ball_count *buy,
                    int64_t *margin_balls)
{
    const struct plan_yarn *yarn = &builder->piece->yarns[index];
    struct buying buying = buying_of(builder, yarn, length_m);

    *buy = (struct ball_count){0};
    if (!yarn->has_ball ||
        yarn_balls_beside(length_m, yarn->margin, yarn->have_m, yarn->ball_m, buying.join_m, buy) != 0)
        return false;
    if (margin_balls)
        *margin_balls = buy->balls;
    if (buying.ball_m > buying.join_m)
        yarn_balls_raise(buy, balls_for(&buying, yarn->likely.confidence), yarn->ball_m);
    return true;
}

enum close_call plan_range_call(const struct builder *builder, const struct ball_count *buy, bool beside)
{
    if (buy->balls == 0)
        return CALL_NONE;
    if (buy->last_used > builder_threshold(builder, "close_call_high"))
        return CALL_NEARLY_USED;
    return buy->last_used < builder_threshold(builder, "close_call_low") && (buy->balls > 1 || beside)
               ? CALL_HARDLY_TOUCHED
               : CALL_NONE;
}

/* Were it ripped and knitted up: so many balls fewer. */
static int64_t balls_of_swatch(const struct builder *builder, int index)
{
    const struct plan_yarn *yarn = &builder->piece->yarns[index];
    struct ball_count without;

    if (builder->own || !(yarn->use_m[USE_SWATCH] > 0.0))
        return 0;
    plan_range_buy(builder, index, yarn->length_m - yarn->use_m[USE_SWATCH], &without, NULL);
    return yarn->buy.balls - without.balls;
}

static void set_balls(const struct builder *builder, int index)
{
    struct plan_yarn *yarn = &builder->piece->yarns[index];
    struct plan_likely *likely = &yarn->likely;
    struct buying buying = buying_of(builder, yarn, yarn->length_m);

    likely->buy_low_m = likely_quantile_m(buying.length_m, buying.log_sd, 0.05);
    likely->buy_high_m = likely_quantile_m(buying.length_m, buying.log_sd, 0.95);
    yarn->beyond_count =
        !plan_range_buy(builder, index, yarn->length_m, &yarn->buy, &yarn->margin_balls);
    if (yarn->beyond_count)
        return;
    yarn->swatch_balls = balls_of_swatch(builder, index);
    yarn->need_m = yarn->buy.need_m;
    yarn->need_g = yarn->need_m * yarn->ball_g / yarn->ball_m;
    yarn->leftover_may_do =
        yarn->margin_balls > 0 &&
        yarn->need_m <= builder_threshold(builder, "ball_leftover_ratio") * yarn->ball_m;
    yarn->have_enough = yarn->have_m > 0.0 && yarn->buy.balls == 0;
    if (!(buying.ball_m > buying.join_m)) /* more of them would never be surer */
        return;
    yarn->close_call = plan_range_call(builder, &yarn->buy, yarn->have_m > 0.0);
    likely->sure_balls = balls_for(&buying, likely->confidence);
    likely->sure_chance = chance_of(&buying, likely->sure_balls);
    likely->more_chance = chance_of(&buying, likely->sure_balls + 1);
    likely->margin_chance = chance_of(&buying, yarn->margin_balls);
    list_enough(builder, &buying, yarn->buy.balls, likely);
}

static void set_range(const struct builder *builder, int index)
{
    struct plan_yarn *yarn = &builder->piece->yarns[index];
    const struct plan_yarn_loop *own = loop_of(builder, index);
    struct plan_likely *likely = &yarn->likely;
    struct likely_errors errors = plan_range_errors(builder, index);
    struct likely_growth growth = plan_range_growth(builder, index, yarn->use_m);
    double log_sd = likely_log_sd(yarn->length_m, likely_variance(&growth, &errors));

    yarn->loop_mm = own->loop_mm;
    likely->buy_low_m = likely->buy_high_m = (double)NAN;
    builder_rest_on(builder, builder->project->confidence.allowance);
    likely->confidence = rational_double(builder->project->confidence.ratio);
    if (!yarn->used)
        return;
    likely->low_m = likely_quantile_m(yarn->length_m, log_sd, 0.05);
    likely->high_m = likely_quantile_m(yarn->length_m, log_sd, 0.95);
    if (!yarn->has_ball)
        return;
    growth.metres[LIKELY_BALL] -= yarn->length_m; /* longer balls: fewer of them */
    likely->buy_log_sd = likely_log_sd(yarn->length_m, likely_variance(&growth, &errors));
    set_balls(builder, index);
}

/* --- what would help most -------------------------------------------------------------------- */

/* The whole piece, nine times in ten within this part. */
static double part_of_all(const struct builder *builder, const struct loop_fit *fit,
                          int more_places)
{
    const struct plan_piece *piece = builder->piece;
    struct likely_growth all = {{0}};
    struct likely_errors errors =
        errors_of(builder, fit, 0, piece->loop.plain_group, more_places);
    double length_m = 0.0;

    for (int i = 0; i < piece->nyarns; i++) {
        struct likely_growth one =
            growth_of(builder, i, piece->yarns[i].use_m, fit != NULL,
                      strand_was_measured(&piece->loop, fit));

        length_m += piece->yarns[i].length_m;
        for (int cause = 0; cause < LIKELY_CAUSES; cause++)
            all.metres[cause] += one.metres[cause];
    }
    return length_m > 0.0 ? likely_nine_in_ten(sqrt(likely_variance(&all, &errors)) / length_m)
                          : 0.0;
}

/* One length as the plan would lead one to expect it: group 0, or that of the plain fabric. */
static struct loop_observation expected(const struct builder *builder, int group, double stitches,
                                        double float_sts)
{
    const struct plan_loop *loop = &builder->piece->loop;
    double loop_mm = group == 0 ? loop->loop_mm : loop->plain_loop_mm;
    double float_mm = float_sts * builder->piece->gauge.stitch_width_mm;
    double tape_mm = builder_threshold(builder, "tape_step_in") * MM_PER_IN / sqrt(12.0);
    struct loop_observation one = {.group = group,
                                   .stitches = stitches,
                                   .float_mm = float_mm,
                                   .length_mm = stitches * loop_mm + float_mm * loop->slack_ratio,
                                   .by_tape = true};

    one.sd_mm = hypot(tape_mm, one.length_mm * likely_sd_of_nine_in_ten(builder_threshold(
                                                   builder, "freed_yarn_scatter")));
    return one;
}

/* An uneven row of 40, a plain one, about a yard of sock yarn, a swatch of 40 by 44. What is plain is
 * of the plain swatch where that was measured. */
static int candidate_of(const struct builder *builder, enum plan_measure measure, double per_gram,
                        struct loop_observation out[2])
{
    enum { ROW_STS = 40, UNEVEN_STS = 28, YARD_STS = 75, SWATCH_ROWS = 44 };
    const double fine_step_g = 0.1;
    int plain = builder->piece->loop.plain_group;

    switch (measure) {
    case MEASURE_STRANDED_ROW:
        out[0] = expected(builder, 0, UNEVEN_STS, ROW_STS - UNEVEN_STS);
        out[1] = expected(builder, 0, ROW_STS - UNEVEN_STS, UNEVEN_STS);
        return 2;
    case MEASURE_PLAIN_ROW:
        out[0] = expected(builder, plain, ROW_STS, 0);
        return 1;
    case MEASURE_MARKED:
        out[0] = expected(builder, plain, YARD_STS, 0);
        out[0].sd_mm = hypot(out[0].sd_mm, out[0].length_mm / YARD_STS / sqrt(12.0));
        return 1;
    case MEASURE_WEIGHT:
        if (!isfinite(per_gram))
            return 0;
        out[0] = expected(builder, 0, ROW_STS * SWATCH_ROWS, ROW_STS * SWATCH_ROWS);
        out[0].by_tape = false;
        out[0].by_scale = true;
        out[0].sd_mm = hypot(fine_step_g * per_gram * MM_PER_M / sqrt(12.0),
                             out[0].length_mm * likely_sd_of_nine_in_ten(builder_threshold(
                                                    builder, "swatch_weight_error")));
        return 1;
    case MEASURE_NOTHING:
    case MEASURE_GAUGE:
        break;
    }
    return 0;
}

static double per_gram_of(const struct plan_piece *piece)
{
    for (int i = 0; i < piece->nyarns; i++)
        if (piece->yarns[i].has_ball)
            return piece->yarns[i].band_m / piece->yarns[i].ball_g;
    return (double)NAN;
}

/* What is known now, and one measurement more; NaN where it cannot be reckoned. */
static double part_with(const struct builder *builder, enum plan_measure measure)
{
    enum { PLACES_MORE = 2, GROUPS = 2 };
    const struct plan_loop *loop = &builder->piece->loop;
    struct loop_observation *list = arena_alloc(
        builder->work->arena, (size_t)loop->nobservations + 2, sizeof *list);
    struct loop_fit fit;
    int more;

    if (measure == MEASURE_GAUGE)
        return part_of_all(builder, loop->fit, PLACES_MORE);
    for (int i = 0; i < loop->nobservations; i++)
        list[i] = loop->observations[i];
    more = candidate_of(builder, measure, per_gram_of(builder->piece),
                        list + loop->nobservations);
    if (more == 0 ||
        loop_fit_solve(list, loop->nobservations + more, GROUPS, &loop->errors, &fit) < 0)
        return (double)NAN;
    if (loop->fit)
        loop_fit_widen(&fit, loop->excess);
    return part_of_all(builder, &fit, 0);
}

/* Does a number of balls hang on it? */
static bool is_unsure(const struct plan_yarn *yarn)
{
    const double practically_always = 0.999;

    if (!yarn->used)
        return false;
    return yarn->likely.nenough == 0 || yarn->likely.enough[0].chance < practically_always;
}

static void set_advice(const struct builder *builder)
{
    struct plan_advice *advice = &builder->piece->loop.advice;
    double worth = 1.0 - builder_threshold(builder, "advice_worth_ratio");

    advice->part_now = advice->part_then =
        part_of_all(builder, builder->piece->loop.fit, 0);
    for (int i = 0; i < builder->piece->nyarns; i++)
        advice->wanted = advice->wanted || is_unsure(&builder->piece->yarns[i]);
    for (int measure = MEASURE_STRANDED_ROW; measure <= MEASURE_GAUGE; measure++) {
        double then = part_with(builder, (enum plan_measure)measure);

        if (!(then < advice->part_then) || !(then < worth * advice->part_now))
            continue;
        advice->measure = (enum plan_measure)measure;
        advice->part_then = then;
    }
}

void plan_range_set(struct builder *builder)
{
    for (int i = 0; i < builder->piece->nyarns; i++)
        set_range(builder, i);
    if (!builder->own)
        set_advice(builder);
}
