/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The errors the plan allows for, as a belief that weighings can narrow: those of yarn/range.c,
 * shared by all yarns where they are one error, besides the start of each yarn and hands that are
 * not the same in every part. And what weighings move: each yarn to the end, as the swatch alone has it and
 * as they do.
 */
#include <math.h>

#include "base/arena.h"
#include "weighed_parts.h"

static const double MM_PER_IN = 25.4; /* exact by definition */
static const double MM_PER_M = 1000.0;

/* What is out for all yarns alike (what was fitted, then the causes from drift on), then for each, then from one
 * weighing to the next. */
enum { SHARED = LOOP_FIT_SIZE + LIKELY_CAUSES - LIKELY_DRIFT };

static int own_loop_index(int yarn)
{
    return SHARED + yarn;
}

static int own_ball_index(const struct weighed *all, int yarn)
{
    return SHARED + all->builder->piece->nyarns + yarn;
}

int weighed_start_index(const struct weighed *all, int yarn)
{
    return SHARED + 2 * all->builder->piece->nyarns + yarn;
}

static int hands_index(const struct weighed *all, int stretch)
{
    return SHARED + 3 * all->builder->piece->nyarns + stretch;
}

/* --- spots ------------------------------------------------------------------------------- */

struct spot weighed_begin(void)
{
    return (struct spot){1, -1, 0};
}

static struct spot weighed_end(const struct weighed *all)
{
    return (struct spot){all->plan->make, all->builder->piece->nsteps, 0};
}

/* use_m[USE_COUNT]: one yarn from cast-on to there. */
static void use_to(const struct weighed *all, int yarn, const struct spot *spot, double *use_m)
{
    const struct plan_piece *piece = all->builder->piece;

    for (int use = 0; use < USE_COUNT; use++) {
        double whole = 0.0, part = 0.0;

        for (int step = 0; step <= piece->nsteps; step++) {
            double metres = piece->step_use_m[step * piece->nyarns + yarn][use];

            whole += metres;
            if (step == spot->step && spot->time > 0)
                metres *= (double)spot->time / piece->bands[piece->steps[step].band].upwards;
            if (step <= spot->step)
                part += metres;
        }
        use_m[use] = (spot->piece - 1) * whole + part;
    }
}

static struct likely_growth growth_to(const struct weighed *all, int yarn, const struct spot *spot,
                                      double *metres)
{
    double use_m[USE_COUNT];

    use_to(all, yarn, spot, use_m);
    *metres = 0.0;
    for (int use = 0; use < USE_COUNT; use++)
        *metres += use_m[use];
    return plan_range_growth(all->builder, yarn, use_m);
}

double weighed_expected_m(const struct weighed *all, int yarn, const struct spot *spot)
{
    double metres;

    growth_to(all, yarn, spot, &metres);
    return metres;
}

double weighed_grams_per_m(const struct weighed *all, int yarn)
{
    const struct plan_yarn *of = &all->builder->piece->yarns[yarn];

    return of->ball_g / of->ball_m;
}

/* --- which unknown is which cause of which yarn ------------------------------------------- */

/* The fit the shared unknowns are those of: with a group for each yarn, where there is one. */
static const struct loop_fit *shared_fit(const struct weighed *all)
{
    const struct plan_loop *loop = &all->builder->piece->loop;

    for (int i = 0; i < all->builder->piece->nyarns; i++)
        if (loop->yarn[i].fit != loop->fit)
            return loop->yarn[i].fit;
    return loop->fit;
}

static int loop_index(const struct weighed *all, int yarn)
{
    const struct plan_yarn_loop *own = &all->builder->piece->loop.yarn[yarn];

    return own->fit == shared_fit(all) ? own->group : own_loop_index(yarn);
}

static int cause_index(const struct weighed *all, int yarn, enum likely_cause cause)
{
    int plain_group = all->builder->piece->loop.plain_group;

    if (cause >= LIKELY_DRIFT)
        return LOOP_FIT_SIZE + (int)(cause - LIKELY_DRIFT);
    if (cause == LIKELY_SLACK || cause == LIKELY_BALL)
        return cause == LIKELY_SLACK ? LOOP_FIT_SLACK : LOOP_FIT_BALL;
    return cause == LIKELY_PLAIN_LOOP && shared_fit(all) && plain_group != 0 ? plain_group
                                                                            : loop_index(all, yarn);
}

/* The hands of each stretch between two weighings, as far as it lies between from_m and to_m. */
static void add_hands(const struct weighed *all, int yarn, double from_m, double to_m, double scale,
                      double *row)
{
    double at_m = 0.0, metres;

    for (int stretch = 0; stretch <= all->nspots; stretch++) {
        struct spot end = stretch < all->nspots ? all->spot[stretch] : weighed_end(all);
        double end_m = growth_to(all, yarn, &end, &metres).metres[LIKELY_DRIFT];
        double shared_m = fmin(to_m, end_m) - fmax(from_m, at_m);

        row[hands_index(all, stretch)] += fmax(shared_m, 0.0) * scale;
        at_m = end_m;
    }
}

void weighed_set_use(const struct weighed *all, int yarn, const struct spot *from,
                     const struct spot *to, double sign, double *row)
{
    double from_m, to_m, scale = sign * weighed_grams_per_m(all, yarn);
    struct likely_growth before = growth_to(all, yarn, from, &from_m);
    struct likely_growth growth = growth_to(all, yarn, to, &to_m);

    for (int i = 0; i < all->belief.n; i++)
        row[i] = 0.0;
    for (int cause = 0; cause < LIKELY_CAUSES; cause++)
        row[cause_index(all, yarn, (enum likely_cause)cause)] +=
            (growth.metres[cause] - before.metres[cause]) * scale;
    /* longer yarn to the gram: fewer of them */
    row[LOOP_FIT_BALL] -= (to_m - from_m) * scale;
    row[own_ball_index(all, yarn)] -= (to_m - from_m) * scale;
    add_hands(all, yarn, before.metres[LIKELY_DRIFT], growth.metres[LIKELY_DRIFT], scale, row);
}

/* --- before any weighing ------------------------------------------------------------------- */

static void set_variance(struct weighed_belief *belief, int index, double variance)
{
    belief->covariance[index * belief->n + index] = variance;
}

/* A group nothing was measured in has no error that is known: it is not used. */
static void copy_fit(struct weighed_belief *belief, const struct loop_fit *fit)
{
    for (int a = 0; a < LOOP_FIT_SIZE; a++)
        for (int b = 0; b < LOOP_FIT_SIZE; b++)
            belief->covariance[a * belief->n + b] =
                isfinite(fit->covariance[a][b]) ? fit->covariance[a][b] : 0.0;
}

static bool scale_was_used(const struct loop_fit *fit)
{
    for (int a = 0; fit && a < LOOP_FIT_BALL; a++)
        if (fabs(fit->covariance[a][LOOP_FIT_BALL]) > 0.0)
            return true;
    return false;
}

/* One error of the bands for all yarns is what weights in the swatch were reckoned with; else half
 * of it is each yarn's own. */
static void share_balls(const struct weighed *all, struct weighed_belief *belief, double variance)
{
    const double shared = 0.5;

    if (scale_was_used(shared_fit(all)))
        return;
    set_variance(belief, LOOP_FIT_BALL, shared * variance);
    for (int i = 0; i < all->builder->piece->nyarns; i++)
        set_variance(belief, own_ball_index(all, i), (1.0 - shared) * variance);
}

static void set_shared(const struct weighed *all, struct weighed_belief *belief)
{
    const struct likely_errors errors = plan_range_errors(all->builder, 0);
    const struct loop_fit *fit = shared_fit(all);

    if (fit) {
        copy_fit(belief, fit);
    } else {
        set_variance(belief, 0, errors.covariance[LIKELY_LOOP][LIKELY_LOOP]);
        set_variance(belief, LOOP_FIT_SLACK, errors.covariance[LIKELY_SLACK][LIKELY_SLACK]);
        set_variance(belief, LOOP_FIT_BALL, errors.covariance[LIKELY_BALL][LIKELY_BALL]);
    }
    for (int cause = LIKELY_DRIFT; cause < LIKELY_CAUSES; cause++)
        set_variance(belief, cause_index(all, 0, (enum likely_cause)cause), errors.covariance[cause][cause]);
    share_balls(all, belief, belief->covariance[LOOP_FIT_BALL * belief->n + LOOP_FIT_BALL]);
}

static void set_own(const struct weighed *all, struct weighed_belief *belief, int yarn)
{
    const struct likely_errors errors = plan_range_errors(all->builder, yarn);
    double sd_g = all->scale[yarn].start_sd_g;

    if (loop_index(all, yarn) == own_loop_index(yarn))
        set_variance(belief, own_loop_index(yarn),
                     errors.covariance[LIKELY_LOOP][LIKELY_LOOP]);
    set_variance(belief, weighed_start_index(all, yarn), sd_g * sd_g);
}

struct weighed_belief weighed_belief_make(const struct weighed *all)
{
    struct arena *arena = all->builder->work->arena;
    double hands_sd = builder_may_be_out(all->builder, "drift_within");
    struct weighed_belief belief = {.n = hands_index(all, all->nspots) + 1};

    belief.mean = arena_alloc(arena, (size_t)belief.n, sizeof *belief.mean);
    belief.covariance =
        arena_alloc(arena, (size_t)belief.n * (size_t)belief.n, sizeof *belief.covariance);
    set_shared(all, &belief);
    for (int i = 0; i < all->builder->piece->nyarns; i++)
        set_own(all, &belief, i);
    for (int stretch = 0; stretch <= all->nspots; stretch++)
        set_variance(&belief, hands_index(all, stretch), hands_sd * hands_sd);
    return belief;
}

/* --- each yarn to the end ------------------------------------------------------------------- */

static const double nothing_ratio = 1e-9;

enum { BALLS_MORE_MOST = 1000, PIECES_TOLD = 12 };

/* Grams of a yarn between two spots; 0 where there is none but what rounding leaves. */
static double believed_g(const struct weighed *all, const struct weighed_belief *belief, int yarn,
                         const struct spot *from, const struct spot *to, double *variance)
{
    double to_m = weighed_expected_m(all, yarn, to);
    double metres = to_m - weighed_expected_m(all, yarn, from);

    weighed_set_use(all, yarn, from, to, 1.0, all->row);
    *variance = weighed_variance(belief, all->row, all->scratch);
    if (metres < nothing_ratio * to_m)
        return 0.0;
    return metres * weighed_grams_per_m(all, yarn) + weighed_mean(belief, all->row);
}

/* One yarn by one belief. */
struct outlook {
    const struct weighed *all;
    const struct weighed_belief *belief;
    int yarn;
    struct spot now;
    double join_m;
    double rest_g, left_g, log_sd; /* log_sd: of the rest; */
    double short_log_sd;           /* and of the rest against what is left */
};

static const struct plan_yarn *yarn_of(const struct outlook *of)
{
    return &of->all->builder->piece->yarns[of->yarn];
}

static double metres(const struct outlook *of, double grams)
{
    return grams * yarn_of(of)->ball_m / yarn_of(of)->ball_g;
}

/* Still to be knitted, by the belief; what is left, by the scale. */
static void look(struct outlook *of)
{
    const struct weighed *all = of->all;
    struct spot end = weighed_end(all);
    double left_sd = all->scale[of->yarn].last_sd_g, variance;

    of->left_g = all->scale[of->yarn].last_g;
    of->rest_g = believed_g(all, of->belief, of->yarn, &of->now, &end, &variance);
    of->log_sd = likely_log_sd(of->rest_g, variance);
    of->short_log_sd = likely_log_sd(of->rest_g, variance + left_sd * left_sd);
}

static double chance_with(const struct outlook *of, int64_t balls)
{
    const struct plan_yarn *yarn = yarn_of(of);
    double joins_g = (double)balls * of->join_m * yarn->ball_g / yarn->ball_m;

    if (!(of->rest_g > 0.0))
        return 1.0;
    return likely_chance(of->rest_g, of->short_log_sd,
                         of->left_g + (double)balls * yarn->ball_g - joins_g);
}

static void set_outlook(const struct outlook *of, struct plan_outlook *out)
{
    const struct plan_yarn *yarn = yarn_of(of);
    /* a swatch that is kept was knitted before she began */
    double used_m =
        metres(of, of->all->scale[of->yarn].start_g - of->left_g) + yarn->use_m[USE_SWATCH];

    out->rest_g = of->rest_g;
    out->rest_m = metres(of, of->rest_g);
    if (of->rest_g > 0.0) {
        out->low_m = likely_quantile_m(out->rest_m, of->log_sd, 0.05);
        out->high_m = likely_quantile_m(out->rest_m, of->log_sd, 0.95);
    }
    out->length_m = used_m + out->rest_m;
    out->chance = chance_with(of, 0);
    while (out->more_balls < BALLS_MORE_MOST &&
           chance_with(of, out->more_balls) < yarn->likely.confidence)
        out->more_balls++;
    out->more_chance = chance_with(of, out->more_balls);
    out->by_need_g = (double)NAN;
    if (yarn_balls_beside(used_m + out->rest_m * (1.0 + yarn->margin), 0.0, yarn->have_m,
                          yarn->ball_m, of->join_m, &out->buy) == 0)
        out->close_call = plan_range_call(of->all->builder, &out->buy, false);
}

/* --- by when, and where it runs out ---------------------------------------------------------- */

static bool is_ahead(const struct plan_weigh_by *by, const struct spot *now)
{
    if (by->piece != now->piece)
        return by->piece > now->piece;
    return by->step != now->step ? by->step > now->step : now->time > 0 && by->time > now->time;
}

static void set_by(const struct weighed *all, const struct spot *now, struct plan_weighed_yarn *out)
{
    out->weigh_by = -1;
    for (int i = 0; i < all->plan->nweigh_by; i++) {
        const struct plan_weigh_by *by = &all->plan->weigh_by[i];

        if (by->yarn != out->yarn || !is_ahead(by, now))
            continue;
        out->weigh_by = i;
        out->before.by_need_g = by->need_g;
        /* the rest of the rest is out as all of it is */
        out->after.by_need_g =
            by->rest_g * out->factor * out->after.high_m / out->after.rest_m;
    }
}

static void set_out(const struct weighed *all, struct plan_weighed_yarn *out)
{
    const struct plan_yarn *yarn = &all->builder->piece->yarns[out->yarn];
    double short_m = (out->after.rest_g - out->left_g) / yarn->ball_g * yarn->ball_m / out->factor;
    double rest_m;

    out->runs_out = short_m > 0.0;
    out->out.yarn = out->yarn;
    if (out->runs_out && plan_weigh_in_find(all->builder, all->plan->make, short_m, &out->out, &rest_m))
        out->out.rest_g = rest_m * yarn->ball_g / yarn->ball_m;
    else
        out->runs_out = false;
}

static void say_short(const struct weighed *all, const struct plan_weighed_yarn *yarn)
{
    struct builder *builder = all->builder;
    const struct plan_yarn *of = &builder->piece->yarns[yarn->yarn];
    double per_m = of->ball_g / of->ball_m;
    int last = all->scale[yarn->yarn].last < 0 ? all->nspots - 1 : all->scale[yarn->yarn].last;

    if (yarn->after.more_balls == 0 || (!yarn->weighed && !yarn->runs_out))
        return;
    diag_add(builder->work->diagnostics, DIAG_WEIGHED_SHORT, all->given[last]->left.at,
             arena_printf(builder->work->arena,
                          "%s %s: %.1f g are left, and %.1f to %.1f g are still to be knitted, nine "
                          "times in ten.",
                          of->name, yarn->runs_out ? "will run out" : "may run out", yarn->left_g,
                          yarn->after.low_m * per_m, yarn->after.high_m * per_m),
             arena_printf(builder->work->arena,
                          "Get %lld ball%s more of the same lot now, while there is some; WHAT THE SCALE "
                          "SAYS has where it would end.",
                          (long long)yarn->after.more_balls, yarn->after.more_balls == 1 ? "" : "s"));
}

/* --- what should be left from here on ---------------------------------------------------------- */

static double left_at(const struct weighed *all, int yarn, const struct spot *spot)
{
    int last = all->scale[yarn].last;
    struct spot now = last < 0 ? weighed_begin() : all->spot[last];
    double variance;

    return all->scale[yarn].last_g - believed_g(all, &all->belief, yarn, &now, spot, &variance);
}

static void add_ahead(const struct weighed *all, struct spot spot)
{
    const struct plan_piece *piece = all->builder->piece;
    double *left_g =
        arena_alloc(all->builder->work->arena, (size_t)piece->nyarns, sizeof *left_g);

    for (int i = 0; i < piece->nyarns; i++)
        left_g[i] = piece->yarns[i].used && piece->yarns[i].has_ball ? left_at(all, i, &spot)
                                                                    : (double)NAN;
    all->out->ahead[all->out->nahead++] =
        (struct plan_weighing){spot.piece, spot.step, spot.time, left_g};
}

/* The piece on the needles step by step, or the next where this one is done; then piece by piece. */
static void list_ahead(const struct weighed *all)
{
    const struct plan_piece *piece = all->builder->piece;
    const struct spot *now = &all->spot[all->nspots - 1];
    int make = all->plan->make, number = now->piece;
    int step = now->time > 0 ? now->step : now->step + 1;
    int last = plan_is_sewn(piece) ? piece->nsteps : piece->nsteps - 1;

    if (step > last) {
        step = 0;
        number++;
    }
    all->out->ahead = arena_alloc(all->builder->work->arena,
                                  (size_t)(piece->nsteps + PIECES_TOLD + 2),
                                  sizeof *all->out->ahead);
    for (; number <= make && step <= last; step++)
        add_ahead(all, (struct spot){number, step, 0});
    for (number = make - number <= PIECES_TOLD ? number + 1 : make; number <= make; number++)
        add_ahead(all, (struct spot){number, piece->nsteps, 0});
}

/* --- all yarns ----------------------------------------------------------------------------------- */

static void look_at(const struct weighed *all, double join_m, struct plan_weighed_yarn *out)
{
    const struct plan_yarn *yarn = &all->builder->piece->yarns[out->yarn];
    int last = all->scale[out->yarn].last;
    struct outlook of = {.all = all, .belief = &all->before, .yarn = out->yarn, .join_m = join_m};

    of.now = last < 0 ? weighed_begin() : all->spot[last];
    out->weighed = last >= 0;
    out->piece = of.now.piece;
    out->step = of.now.step;
    out->time = of.now.time;
    out->start_g = all->scale[out->yarn].start_g;
    out->start_weighed = all->scale[out->yarn].start_weighed;
    out->start_band_g = all->scale[out->yarn].start_band_g;
    out->left_g = all->scale[out->yarn].last_g;
    look(&of);
    set_outlook(&of, &out->before);
    out->before.length_m = yarn->length_m;
    out->before.buy = yarn->buy;
    out->before.close_call = yarn->close_call;
    of.belief = &all->belief;
    look(&of);
    set_outlook(&of, &out->after);
    out->factor = out->before.rest_g > 0.0 ? out->after.rest_g / out->before.rest_g : 1.0;
    set_by(all, &of.now, out);
    set_out(all, out);
    say_short(all, out);
}

void weighed_look_ahead(struct weighed *all)
{
    const struct plan_piece *piece = all->builder->piece;
    double join_m = builder_value(all->builder, "join_tails") * all->plan->tail_in * MM_PER_IN / MM_PER_M;

    all->out->yarns =
        arena_alloc(all->builder->work->arena, (size_t)piece->nyarns, sizeof *all->out->yarns);
    for (int i = 0; i < piece->nyarns; i++) {
        struct plan_weighed_yarn *out = &all->out->yarns[all->out->nyarns];

        if (!piece->yarns[i].used || !piece->yarns[i].has_ball)
            continue;
        out->yarn = i;
        look_at(all, join_m, out);
        all->out->nyarns++;
    }
    list_ahead(all);
}
