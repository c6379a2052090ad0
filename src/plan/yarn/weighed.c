/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the scale said on the way: her weighings put in their places, and taken one by one.
 */
#include <math.h>

#include "base/arena.h"
#include "weighed_parts.h"

/* --- places ------------------------------------------------------------------------------- */

static void fault_step(const struct weighed *all, struct place at, const char *what)
{
    const struct plan_piece *piece = all->builder->piece;

    builder_fault(all->builder, DIAG_WEIGHED_STEP, at, what,
                  arena_printf(all->builder->work->arena,
                               "Take the number of the step from the plan: 1 to %d, of %d piece%s.",
                               piece->nsteps, all->plan->make, all->plan->make == 1 ? "" : "s"));
}

static bool check_time(const struct weighed *all, const struct given_weighing *given)
{
    const struct plan_piece *piece = all->builder->piece;
    const struct plan_step *step = &piece->steps[given->step.value - 1];
    int times = step->band >= 0 ? piece->bands[step->band].upwards : 1;

    if (given->time.value <= times)
        return true;
    fault_step(all, given->time.at,
               arena_printf(all->builder->work->arena, "Step %d is worked %d time%s, not %d.",
                            given->step.value, times, times == 1 ? "" : "s", given->time.value));
    return false;
}

static bool check_place(const struct weighed *all, const struct given_weighing *given)
{
    const struct plan_piece *piece = all->builder->piece;
    struct arena *arena = all->builder->work->arena;

    if (given->piece.value > all->plan->make) {
        fault_step(all, given->piece.at,
                   arena_printf(arena, "There is no piece %d: the plan makes %d.",
                                given->piece.value, all->plan->make));
        return false;
    }
    if (given->place == WEIGHED_SEWING && !plan_is_sewn(piece)) {
        fault_step(all, given->left.at, "Nothing is sewn on in this piece.");
        return false;
    }
    if (given->place != WEIGHED_STEP)
        return true;
    if (given->step.value <= piece->nsteps)
        return check_time(all, given);
    fault_step(all, given->step.at,
               arena_printf(arena, "There is no step %d: the plan has %d.", given->step.value,
                            piece->nsteps));
    return false;
}

static struct spot spot_of(const struct weighed *all, const struct given_weighing *given)
{
    const struct plan_piece *piece = all->builder->piece;
    struct spot spot = {given->piece.value, piece->nsteps, 0};

    if (given->place == WEIGHED_BEGIN)
        return weighed_begin();
    if (given->place == WEIGHED_STEP) {
        int band = piece->steps[given->step.value - 1].band;

        spot.step = given->step.value - 1;
        spot.time = given->time.value < (band >= 0 ? piece->bands[band].upwards : 1)
                        ? given->time.value
                        : 0;
    }
    return spot;
}

/* A band done so many times comes before the whole of it. */
static bool is_before(const struct spot *a, const struct spot *b)
{
    if (a->piece != b->piece)
        return a->piece < b->piece;
    if (a->step != b->step || a->time == 0)
        return a->step < b->step;
    return b->time == 0 || a->time < b->time;
}

static int number_of(const struct weighed *all, int spot)
{
    return (int)(all->given[spot] - all->builder->project->weighing) + 1;
}

static void find_spots(struct weighed *all)
{
    const struct project *project = all->builder->project;

    for (int i = 0; i < WEIGHINGS_MAX; i++) {
        const struct given_weighing *given = &project->weighing[i];
        int n = all->nspots;

        if (given->left.count == 0 || !check_place(all, given))
            continue;
        all->given[n] = given;
        all->spot[n] = spot_of(all, given);
        all->nspots++;
        if (n > 0 && is_before(&all->spot[n], &all->spot[n - 1]))
            builder_fault(all->builder, DIAG_WEIGHED_ORDER, given->left.at,
                          arena_printf(all->builder->work->arena,
                                       "Weighing %d comes earlier in the knitting than weighing %d, "
                                       "on line %d.",
                                       number_of(all, n), number_of(all, n - 1),
                                       all->given[n - 1]->left.at.line),
                          "Number them in the order in which you weighed, or correct the step or "
                          "the piece.");
    }
}

/* --- what each yarn began with --------------------------------------------------------------- */

/* As finely as any weight is written: 94 g may be 94.0 g. */
static double scale_step_g(const struct weighed *all)
{
    const struct project *project = all->builder->project;
    const struct given_grams *scale =
        rational_is_value(project->weighed_scale.g) ? &project->weighed_scale : &project->swatch.scale;
    double step_g = (double)INFINITY;

    for (int k = 0; k < all->nspots; k++)
        for (int i = 0; i < all->given[k]->left.count; i++)
            step_g = fmin(step_g,
                          plan_scale_step_g(all->builder, scale, all->given[k]->left.list[i].g,
                                            all->given[k]->left.list[i].unit_g));
    return step_g;
}

static double net_g(const struct weighed *all, const struct yarn_grams *one)
{
    double net = rational_double(one->g) - all->scale[one->yarn.index].not_yarn_g;

    if (net < 0.0)
        builder_fault(all->builder, DIAG_WEIGHED_UNDER, one->at,
                      arena_printf(all->builder->work->arena,
                                   "%s weighs %g g with what is no yarn, and that alone is %g g: more "
                                   "would be used than there was.",
                                   one->yarn.name, rational_double(one->g),
                                   all->scale[one->yarn.index].not_yarn_g),
                      "Correct the weight, or \"not yarn\".");
    return net;
}

static void begin_by_bands(struct weighed *all, int yarn)
{
    const struct plan_yarn *of = &all->builder->piece->yarns[yarn];
    double metres = (double)of->buy.balls * of->ball_m + of->have_m - of->use_m[USE_SWATCH];

    all->scale[yarn].last = -1;
    all->scale[yarn].start_band_g = of->has_ball ? metres * of->ball_g / of->ball_m : (double)NAN;
    all->scale[yarn].start_g = all->scale[yarn].last_g = all->scale[yarn].start_band_g;
}

static void note_start(const struct weighed *all, const struct yarn_grams *one)
{
    int yarn = one->yarn.index;
    double band_g = all->scale[yarn].start_band_g, net = all->scale[yarn].start_g;
    double may_g = builder_threshold(all->builder, "ball_weight_error") * band_g;

    if (fabs(net - band_g) <= may_g)
        return;
    diag_add(all->builder->work->diagnostics, DIAG_WEIGHED_START, one->at,
             arena_printf(all->builder->work->arena,
                          "%s weighed %g g to begin with; by the bands and the plan there would be "
                          "%.4g g.",
                          one->yarn.name, net, band_g),
             net > band_g ? "The plan goes by the scale. If bands, cores or a bag were weighed with "
                            "it each time, write them down: not yarn = NAME 2.3 g."
                          : "The plan goes by the scale.");
}

static void begin_by_scale(struct weighed *all)
{
    for (int k = 0; k < all->nspots; k++)
        for (int i = 0; i < all->given[k]->left.count && all->spot[k].step < 0; i++) {
            const struct yarn_grams *one = &all->given[k]->left.list[i];
            int yarn = one->yarn.index;

            all->scale[yarn].start_g = all->scale[yarn].last_g = net_g(all, one);
            all->scale[yarn].start_weighed = true;
            all->scale[yarn].start_sd_g = weighed_scale_sd(all->scale_step_g);
            note_start(all, one);
        }
}

/* Only a yarn that was not weighed to begin with rests on the weights of the bands. */
static void set_start_errors(struct weighed *all)
{
    for (int i = 0; i < all->builder->piece->nyarns; i++) {
        const struct plan_yarn *yarn = &all->builder->piece->yarns[i];

        if (yarn->used && yarn->has_ball && !all->scale[i].start_weighed)
            all->scale[i].start_sd_g = builder_may_be_out(all->builder, "ball_weight_error") *
                                 (double)yarn->buy.balls * yarn->ball_g;
        all->scale[i].last_sd_g = all->scale[i].start_sd_g;
    }
}

/* --- one reading after the other --------------------------------------------------------------- */

static double reckoned_g(const struct weighed *all, int yarn, const struct spot *from,
                         const struct spot *to)
{
    const struct plan_yarn *of = &all->builder->piece->yarns[yarn];

    return (weighed_expected_m(all, yarn, to) - weighed_expected_m(all, yarn, from)) * of->ball_g /
           of->ball_m;
}

/* So many standard errors over its band no ball is. */
static const double heaviest_sd = 4.0;

/* More than before, or than there could have been to begin with. */
static void check_gained(const struct weighed *all, const struct yarn_grams *one, double net)
{
    int yarn = one->yarn.index;
    bool first = all->scale[yarn].last < 0 && !all->scale[yarn].start_weighed;
    struct arena *arena = all->builder->work->arena;
    double more_g = all->scale_step_g + (first ? heaviest_sd * all->scale[yarn].start_sd_g : 0.0);

    if (all->builder->failed || net <= all->scale[yarn].last_g + more_g)
        return;
    if (first)
        builder_fault(all->builder, DIAG_WEIGHED_GAINED, one->at,
                      arena_printf(arena, "%s weighs %g g; by the plan there were %.4g g to begin with.",
                                   one->yarn.name, net, all->scale[yarn].last_g),
                      "If you have more of it than the plan buys, write what all of it weighed before "
                      "the first stitch: weighing = to begin with: NAME 104 g.");
    else
        builder_fault(all->builder, DIAG_WEIGHED_GAINED, one->at,
                      arena_printf(arena, "%s weighs %g g, and weighed %g g before: a ball gains nothing "
                                          "by knitting.",
                                   one->yarn.name, net, all->scale[yarn].last_g),
                      "Weigh all its balls together each time. If you added a ball, add its weight to "
                      "the weighings before as well.");
}

/* What was used since the time before against what the plan alone would have; how far that may be
 * out: its errors, and the scale twice or the bands and the scale. */
static struct weighed_surprise against_plan(const struct weighed *all, int yarn,
                                            const struct spot *from, const struct spot *here,
                                            double used_g)
{
    double expected_m = weighed_expected_m(all, yarn, here) - weighed_expected_m(all, yarn, from);
    struct weighed_surprise surprise = {.off = used_g - expected_m * weighed_grams_per_m(all, yarn)};
    double scale_sd = hypot(weighed_scale_sd(all->scale_step_g), all->scale[yarn].last_sd_g);

    weighed_set_use(all, yarn, from, here, 1.0, all->row);
    surprise.sd =
        hypot(scale_sd, sqrt(weighed_variance(&all->before, all->row, all->scratch)));
    return surprise;
}

static enum weighed_verdict verdict_of(const struct weighed *all,
                                       const struct plan_weighed_reading *reading,
                                       const struct weighed_surprise *surprise)
{
    double far = builder_threshold(all->builder, "weighed_far_ratio") * reading->reckoned_g;
    double off = reading->used_g - reading->reckoned_g;
    bool explained = fabs(surprise->off) <= likely_nine_in_ten(surprise->sd);

    if (!explained && fabs(off) > fmax(far, 2.0 * all->scale_step_g))
        return off > 0.0 ? WEIGHED_FAR_MORE : WEIGHED_FAR_LESS;
    if (reading->reckoned_g < all->scale_step_g)
        return WEIGHED_NOTHING;
    if (explained)
        return WEIGHED_WITHIN;
    return surprise->off > 0.0 ? WEIGHED_MORE : WEIGHED_LESS;
}

static void judge(const struct weighed *all, struct plan_weighed_reading *reading,
                  const struct spot *from, const struct spot *here)
{
    struct weighed_surprise surprise =
        against_plan(all, reading->yarn, from, here, reading->used_g);

    reading->verdict = verdict_of(all, reading, &surprise);
    if (reading->reckoned_g < all->scale_step_g)
        return;
    reading->off_part = reading->used_g / reading->reckoned_g - 1.0;
    reading->explained_part = likely_nine_in_ten(surprise.sd) / reading->reckoned_g;
}

static void say_reading(struct weighed *all, const struct plan_weighed_reading *reading,
                        const struct yarn_grams *one)
{
    struct arena *arena = all->builder->work->arena;
    bool more = reading->verdict == WEIGHED_FAR_MORE;

    if (reading->verdict == WEIGHED_NOTHING && reading->reckoned_g > 0.0 && !all->scale[reading->yarn].noted) {
        all->scale[reading->yarn].noted = true;
        diag_add(all->builder->work->diagnostics, DIAG_WEIGHED_SMALL, one->at,
                 arena_printf(arena,
                              "Of %s %.2g g were to be used since it was weighed before; a scale that "
                              "shows %g g says nothing of that.",
                              one->yarn.name, reading->reckoned_g, all->scale_step_g),
                 "Weigh again after more rounds.");
    }
    if (reading->verdict != WEIGHED_FAR_MORE && reading->verdict != WEIGHED_FAR_LESS)
        return;
    diag_add(all->builder->work->diagnostics, DIAG_WEIGHED_FAR, one->at,
             arena_printf(arena,
                          "Of %s %.3g g were used where %.3g g were reckoned: that is more than hands "
                          "and scale are ever out.",
                          one->yarn.name, reading->used_g, reading->reckoned_g),
             more ? "Look for a ball left off the scale, yarn wound off or a wrong step. Until then "
                    "the plan takes it that you use so much."
                  : "Look for a wrong step, or for a bag or another ball on the scale. Until then the "
                    "plan goes by what is left, and learns nothing from it.");
}

/* Far less used than it can have been tells of something else than hands; far more is believed, to be
 * on the safe side. */
static void believe(struct weighed *all, const struct plan_weighed_reading *reading,
                    const struct spot *here)
{
    int yarn = reading->yarn, start = weighed_start_index(all, yarn);
    struct spot begin = weighed_begin();
    double expected_g = weighed_expected_m(all, yarn, here) * weighed_grams_per_m(all, yarn);
    struct weighed_surprise surprise;
    double times;

    if (reading->verdict == WEIGHED_FAR_LESS)
        weighed_unsettle(&all->belief, start, all->scale[yarn].start_g);
    weighed_set_use(all, yarn, &begin, here, -1.0, all->row);
    all->row[start] += 1.0;
    surprise = weighed_take(&all->belief, all->row,
                            reading->weighed_g - all->scale[yarn].start_g + expected_g,
                            weighed_scale_sd(all->scale_step_g), all->scratch);
    if (reading->verdict == WEIGHED_FAR_LESS)
        return;
    times = fmin(fabs(surprise.off) / surprise.sd,
                 builder_threshold(all->builder, "swatch_refuse_times"));
    all->chi_square += times * times;
    all->nsurprises++;
}

static void take_after_step(struct weighed *all, struct plan_weighed_reading *reading,
                            const struct yarn_grams *one, const struct spot *from,
                            const struct spot *here)
{
    check_gained(all, one, reading->weighed_g);
    if (all->builder->failed)
        return;
    judge(all, reading, from, here);
    believe(all, reading, here);
    say_reading(all, reading, one);
    all->scale[reading->yarn].last_sd_g = weighed_scale_sd(all->scale_step_g);
}

static void take_reading(struct weighed *all, int spot, const struct yarn_grams *one)
{
    int yarn = one->yarn.index;
    const struct spot *here = &all->spot[spot];
    struct spot begin = weighed_begin();
    const struct spot *from = all->scale[yarn].last < 0 ? &begin : &all->spot[all->scale[yarn].last];
    double net = net_g(all, one);
    struct plan_weighed_reading *reading = &all->out->readings[all->out->nreadings++];

    *reading = (struct plan_weighed_reading){
        .number = number_of(all, spot),
        .yarn = yarn,
        .piece = here->piece,
        .step = here->step,
        .time = here->time,
        .weighed_g = net,
        .should_g = all->scale[yarn].start_g - reckoned_g(all, yarn, &begin, here),
        .reckoned_g = reckoned_g(all, yarn, from, here),
        .used_g = all->scale[yarn].last_g - net,
        .off_part = (double)NAN,
        .explained_part = (double)NAN,
        .verdict = WEIGHED_WITHIN};
    if (here->step >= 0) {
        take_after_step(all, reading, one, from, here);
        all->scale[yarn].last = spot;
    }
    all->scale[yarn].last_g = net;
}

static void take_all(struct weighed *all)
{
    for (int k = 0; k < all->nspots; k++)
        for (int i = 0; i < all->given[k]->left.count; i++)
            take_reading(all, k, &all->given[k]->left.list[i]);
}

/* --- the whole ------------------------------------------------------------------------------------ */

static void open_all(struct weighed *all)
{
    struct arena *arena = all->builder->work->arena;
    const struct given_yarn_grams *not_yarn = &all->builder->project->not_yarn;
    size_t nyarns = (size_t)all->builder->piece->nyarns;
    int readings = 0;

    all->scale = arena_alloc(arena, nyarns, sizeof *all->scale);
    for (int i = 0; i < not_yarn->count; i++)
        all->scale[not_yarn->list[i].yarn.index].not_yarn_g = rational_double(not_yarn->list[i].g);
    for (int k = 0; k < all->nspots; k++)
        readings += all->given[k]->left.count;
    all->out = arena_alloc(arena, 1, sizeof *all->out);
    all->out->readings = arena_alloc(arena, (size_t)readings, sizeof *all->out->readings);
    all->scale_step_g = all->out->scale_step_g = scale_step_g(all);
    for (int i = 0; i < (int)nyarns; i++)
        begin_by_bands(all, i);
    begin_by_scale(all);
    set_start_errors(all);
}

static void widen(struct weighed *all)
{
    size_t size = (size_t)all->belief.n * (size_t)all->belief.n;

    all->out->excess = weighed_excess(all->chi_square, all->nsurprises,
                                      builder_threshold(all->builder, "swatch_differ_chance"));
    for (size_t i = 0; i < size; i++)
        all->belief.covariance[i] *= all->out->excess;
}

void plan_weighed_set(struct builder *builder, struct plan *plan)
{
    struct weighed all = {.builder = builder, .plan = plan};

    find_spots(&all);
    if (all.nspots == 0 || builder->failed)
        return;
    open_all(&all);
    if (builder->failed)
        return;
    all.before = weighed_belief_make(&all);
    all.belief = weighed_belief_make(&all);
    all.row = arena_alloc(builder->work->arena, (size_t)all.belief.n, sizeof *all.row);
    all.scratch = arena_alloc(builder->work->arena, (size_t)all.belief.n, sizeof *all.scratch);
    take_all(&all);
    if (builder->failed)
        return;
    widen(&all);
    weighed_look_ahead(&all);
    plan->weighed = all.out;
}
