/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The errors the plan allows for, as a belief that weighings can narrow: those of yarn/range.c,
 * shared by all yarns where they are one error, besides the start of each yarn and hands that are
 * not the same in every part.
 */
#include <math.h>

#include "base/arena.h"
#include "weighed_parts.h"

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

struct spot weighed_end(const struct weighed *all)
{
    return (struct spot){all->plan->make, all->builder->piece->nsteps, 0};
}

/* A band done so many times comes before the whole of it. */
bool weighed_before(const struct spot *a, const struct spot *b)
{
    if (a->piece != b->piece)
        return a->piece < b->piece;
    if (a->step != b->step || a->time == 0)
        return a->step < b->step;
    return b->time == 0 || a->time < b->time;
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
