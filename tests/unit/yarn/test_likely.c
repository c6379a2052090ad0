/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Ranges and chances against printed tables of the normal and of Student's distribution, and
 * against simulated knitters: each with a hand, a swatch, a tape and balls of her own, drawn
 * from the errors the model names, and from another law.
 */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>

#include "dice.h"
#include "model/yarn/likely.h"
#include "model/yarn/loop.h"

extern CU_TestInfo tests_likely[];

/* --- printed tables ------------------------------------------------------------------- */

/* Normal distribution, any textbook: 1.6449 leaves 5 %, Phi(1) = 0.8413, Phi(1.96) = 0.9750. */
static void test_printed_normal(void)
{
    CU_ASSERT_DOUBLE_EQUAL(likely_nine_in_ten(0.02385), 1.6449 * 0.02385, 2e-6);
    CU_ASSERT_DOUBLE_EQUAL(likely_sd_of_nine_in_ten(0.04), 0.04 / 1.6449, 1e-6);
    CU_ASSERT_DOUBLE_EQUAL(likely_chance(238.5, 0.07, 238.5 * exp(0.07)), 0.8413, 0.00005);
    CU_ASSERT_DOUBLE_EQUAL(likely_chance(238.5, 0.07, 238.5 * exp(-1.96 * 0.07)), 0.0250, 0.00005);
    CU_ASSERT_DOUBLE_EQUAL(likely_quantile_m(238.5, 0.07, 0.975), 238.5 * exp(1.95996 * 0.07), 1e-3);
    CU_ASSERT_DOUBLE_EQUAL(likely_chance(238.5, 0.07, 0), 0, 0);
    CU_ASSERT_DOUBLE_EQUAL(likely_chance(238.5, 0, 238.4), 0, 0);
    CU_ASSERT_DOUBLE_EQUAL(likely_chance(238.5, 0, 238.5), 1, 0);
    CU_ASSERT_DOUBLE_EQUAL(likely_chance(0, 0.07, 23.85), 1, 0);
    CU_ASSERT_TRUE(isnan(likely_log_sd(0, 2.385)) && isnan(likely_log_sd(238.5, -1)));
    CU_ASSERT_DOUBLE_EQUAL(likely_log_sd(10, 25), sqrt(log(1.25)), 1e-12);
}

/* Student's t, 2 degrees, 95 %: 4.303 (any textbook). Counts 31.5, 32, 32.25: s by hand. */
static void test_gauge_by_hand(void)
{
    const double mean = 95.75 / 3;
    const double s = sqrt((pow(31.5 - mean, 2) + pow(32 - mean, 2) + pow(32.25 - mean, 2)) / 2);
    const double half = 4.303 * s / sqrt(3) / mean;

    CU_ASSERT_DOUBLE_EQUAL(likely_gauge_sd(3, half, 0.0012), s / sqrt(3) / mean, 1e-6);
    CU_ASSERT_DOUBLE_EQUAL(likely_gauge_sd(3, half, 0.0385), 0.0385 / sqrt(3), 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(likely_gauge_sd(1, (double)NAN, 0.0122), 0.0122, 1e-12);
}

static void test_variance_by_hand(void)
{
    struct likely_growth growth = {{0}};
    struct likely_errors errors = {{{0}}};

    growth.metres[LIKELY_LOOP] = 83.5;
    growth.metres[LIKELY_SLACK] = 21.25;
    growth.metres[LIKELY_WIDTH] = -12.5;
    errors.covariance[LIKELY_LOOP][LIKELY_LOOP] = 0.0009;
    errors.covariance[LIKELY_SLACK][LIKELY_SLACK] = 0.0025;
    errors.covariance[LIKELY_LOOP][LIKELY_SLACK] = errors.covariance[LIKELY_SLACK][LIKELY_LOOP] =
        -0.0012;
    errors.covariance[LIKELY_WIDTH][LIKELY_WIDTH] = 0.0004;
    /* 6.275025 + 1.12890625 - 2 x 2.12925 + 0.0625 */
    CU_ASSERT_DOUBLE_EQUAL(likely_variance(&growth, &errors), 3.20793125, 1e-6);
}

/* --- simulated knitters ------------------------------------------------------------------- */

enum swatching { ONE_ROW, ROW_AND_PLAIN, WEIGHED, WEIGHED_AND_MARKED, GAUGE_ONLY, SWATCHINGS };

/* One hand: what is true, in mm and parts. */
struct knitter {
    enum swatching swatching;
    double loop, slack, pull, ball;
    double stitches, plain, floats_mm, catches_m, edges_m; /* her piece */
};

static const double width_mm = 3.175;

/* The nine-in-ten limits of the table, written out again. */
static const double pull_sd = 0.02 / 1.6449, scatter_sd = 0.02 / 1.6449, ball_sd = 0.04 / 1.6449;
static const double slack_sd = 0.1 / 1.6449, drift_sd = 0.03 / 1.6449, catch_sd = 0.5 / 1.6449;
static const double edge_sd = 0.15 / 1.6449, gauge_law_sd = 0.15 / 1.6449;
static const double gauge_loop_mm = 12.7;

static struct knitter knitter_of(struct dice *dice)
{
    struct knitter knitter = {.swatching = (enum swatching)(dice_even(dice) * SWATCHINGS)};

    knitter.loop = knitter.swatching == GAUGE_ONLY
                       ? gauge_loop_mm * (1 + dice_error(dice, gauge_law_sd))
                       : gauge_loop_mm * (0.85 + 0.3 * dice_even(dice));
    knitter.slack = 1.10 + dice_error(dice, slack_sd);
    knitter.pull = dice_error(dice, pull_sd);
    knitter.ball = dice_error(dice, ball_sd);
    knitter.stitches = 5000 + 45000 * dice_even(dice);
    knitter.plain = knitter.stitches * 2 * dice_even(dice);
    knitter.floats_mm = knitter.stitches * dice_even(dice) * 1.5 * width_mm;
    knitter.catches_m = 3 * dice_even(dice);
    knitter.edges_m = 1 + 9 * dice_even(dice);
    return knitter;
}

static struct loop_observation measure(struct dice *dice, const struct knitter *knitter,
                                       double stitches, double float_sts, bool weighed)
{
    double float_mm = float_sts * width_mm;
    double truth = stitches * knitter->loop + float_mm * knitter->slack;
    double own = weighed ? truth * 0.0065 : hypot(0.917, scatter_sd * truth);
    double seen = (truth + dice_error(dice, own)) / (1 + (weighed ? knitter->ball : knitter->pull));

    return (struct loop_observation){.stitches = stitches,
                                     .float_mm = float_mm,
                                     .length_mm = seen,
                                     .sd_mm = own,
                                     .by_tape = !weighed,
                                     .by_scale = weighed};
}

static int measure_swatch(struct dice *dice, const struct knitter *knitter,
                          struct loop_observation out[4])
{
    int n = 0;

    if (knitter->swatching == ONE_ROW || knitter->swatching == ROW_AND_PLAIN) {
        out[n++] = measure(dice, knitter, 28, 12, false);
        out[n++] = measure(dice, knitter, 12, 28, false);
    }
    if (knitter->swatching == ROW_AND_PLAIN)
        out[n++] = measure(dice, knitter, 40, 0, false);
    if (knitter->swatching == WEIGHED || knitter->swatching == WEIGHED_AND_MARKED)
        out[n++] = measure(dice, knitter, 1760, 1760, true);
    if (knitter->swatching == WEIGHED_AND_MARKED)
        out[n++] = measure(dice, knitter, 75, 0, false);
    return n;
}

struct stated {
    double length_m, log_sd, buy_log_sd, ball_ratio;
};

/* What the model would tell her. */
static bool state(struct dice *dice, const struct knitter *knitter, struct stated *out)
{
    const struct loop_fit_errors given = {.pull_sd = pull_sd,
                                          .ball_sd = ball_sd,
                                          .slack = 1.10,
                                          .slack_sd = slack_sd,
                                          .slack_told_sd = 0.25 / 1.6449};
    static const int place[] = {0, 0, LOOP_FIT_SLACK, LOOP_FIT_BALL};
    struct loop_observation seen[4];
    struct likely_growth growth = {{0}};
    struct likely_errors errors = {{{0}}};
    double loop = gauge_loop_mm, slack = 1.10;
    struct loop_fit fit = {.ball_ratio = 1};

    if (knitter->swatching == GAUGE_ONLY) {
        fit.covariance[0][0] = gauge_law_sd * gauge_law_sd;
        fit.covariance[LOOP_FIT_SLACK][LOOP_FIT_SLACK] = pow(slack_sd / slack, 2);
        fit.covariance[LOOP_FIT_BALL][LOOP_FIT_BALL] = ball_sd * ball_sd;
    } else {
        if (loop_fit_solve(seen, measure_swatch(dice, knitter, seen), 1, &given, &fit) < 0)
            return false;
        loop = fit.loop_mm[0];
        slack = fit.slack;
    }
    for (int a = 0; a < 4; a++)
        for (int b = 0; b < 4; b++)
            errors.covariance[a][b] = fit.covariance[place[a]][place[b]];
    errors.covariance[LIKELY_DRIFT][LIKELY_DRIFT] = drift_sd * drift_sd;
    errors.covariance[LIKELY_CATCH][LIKELY_CATCH] = catch_sd * catch_sd;
    errors.covariance[LIKELY_EDGE][LIKELY_EDGE] = edge_sd * edge_sd;
    growth.metres[LIKELY_LOOP] = knitter->stitches * loop / 1000;
    growth.metres[LIKELY_PLAIN_LOOP] = knitter->plain * loop / 1000;
    growth.metres[LIKELY_SLACK] = knitter->floats_mm * slack / 1000;
    growth.metres[LIKELY_CATCH] = knitter->catches_m;
    growth.metres[LIKELY_EDGE] = knitter->edges_m;
    growth.metres[LIKELY_DRIFT] = growth.metres[LIKELY_LOOP] + growth.metres[LIKELY_PLAIN_LOOP] +
                                  growth.metres[LIKELY_SLACK];
    out->length_m = growth.metres[LIKELY_DRIFT] + knitter->catches_m + knitter->edges_m;
    out->log_sd = likely_log_sd(out->length_m, likely_variance(&growth, &errors));
    growth.metres[LIKELY_BALL] = -out->length_m;
    out->buy_log_sd = likely_log_sd(out->length_m, likely_variance(&growth, &errors));
    out->ball_ratio = fit.ball_ratio;
    return true;
}

static double truth_m(struct dice *dice, const struct knitter *knitter)
{
    double worked = (knitter->stitches + knitter->plain) * knitter->loop +
                    knitter->floats_mm * knitter->slack;

    return worked / 1000 * (1 + dice_error(dice, drift_sd)) +
           knitter->catches_m * (1 + dice_error(dice, catch_sd)) +
           knitter->edges_m * (1 + dice_error(dice, edge_sd));
}

enum { BINS = 10, KNITTERS = 60000 };

struct outcome {
    int in_range, of_swatching[SWATCHINGS], in_of[SWATCHINGS], knitters;
    int bin[BINS], came_true[BINS];
    double said[BINS];
    int sure, sure_true; /* balls for 95 in 100: how often they were enough */
};

static void one_knitter(struct dice *dice, struct outcome *all)
{
    struct knitter knitter = knitter_of(dice);
    struct stated stated;
    double truth, low, high, label_m, chance, enough_m;
    int bin;

    if (!state(dice, &knitter, &stated))
        return;
    truth = truth_m(dice, &knitter);
    low = likely_quantile_m(stated.length_m, stated.log_sd, 0.05);
    high = likely_quantile_m(stated.length_m, stated.log_sd, 0.95);
    all->knitters++;
    all->of_swatching[knitter.swatching]++;
    all->in_of[knitter.swatching] += truth >= low && truth <= high;
    all->in_range += truth >= low && truth <= high;
    /* What she has in her basket, by the bands: anything from far too little to plenty. */
    label_m = stated.length_m / stated.ball_ratio *
              exp(stated.buy_log_sd * (4.4 * dice_even(dice) - 2.2));
    chance = likely_chance(stated.length_m / stated.ball_ratio, stated.buy_log_sd, label_m);
    bin = (int)(chance * BINS);
    all->bin[bin]++;
    all->said[bin] += chance;
    all->came_true[bin] += label_m * (1 + knitter.ball) >= truth;
    enough_m = likely_quantile_m(stated.length_m / stated.ball_ratio, stated.buy_log_sd, 0.95);
    all->sure++;
    all->sure_true += enough_m * (1 + knitter.ball) >= truth;
}

static struct outcome simulate(enum law law)
{
    struct dice dice = {.state = 2385, .law = law};
    struct outcome all = {0};

    for (int i = 0; i < KNITTERS; i++)
        one_knitter(&dice, &all);
    printf("\n    %s errors: %d knitters, %.1f %% within nine in ten (", law == LAW_SKEWED ? "skewed" : "normal",
           all.knitters, 100.0 * all.in_range / all.knitters);
    for (int i = 0; i < SWATCHINGS; i++)
        printf("%s%.1f", i ? ", " : "", 100.0 * all.in_of[i] / all.of_swatching[i]);
    printf("), 95 in 100: %.1f;\n    said and came true:", 100.0 * all.sure_true / all.sure);
    for (int i = 0; i < BINS; i++)
        printf(" %.1f/%.1f", 100 * all.said[i] / all.bin[i], 100.0 * all.came_true[i] / all.bin[i]);
    return all;
}

/* Errors as the model has them: every chance within 2 in 100 of how often it came true, nine in
 * ten held by 88 to 92 in 100, in all and of each way of swatching. */
static void test_knitters_of_the_model(void)
{
    struct outcome all = simulate(LAW_NORMAL);

    CU_ASSERT_TRUE(all.knitters > KNITTERS - 10);
    CU_ASSERT_DOUBLE_EQUAL(100.0 * all.in_range / all.knitters, 90, 2);
    CU_ASSERT_DOUBLE_EQUAL(100.0 * all.sure_true / all.sure, 95, 2);
    for (int i = 0; i < SWATCHINGS; i++)
        CU_ASSERT_DOUBLE_EQUAL(100.0 * all.in_of[i] / all.of_swatching[i], 90, 2);
    for (int i = 0; i < BINS; i++)
        CU_ASSERT_DOUBLE_EQUAL(100.0 * all.came_true[i] / all.bin[i], 100 * all.said[i] / all.bin[i],
                               2);
}

/* Another law, skewed to the long side with a heavy tail: what docs/formulas.md says of it. */
static void test_knitters_of_another_law(void)
{
    struct outcome all = simulate(LAW_SKEWED);

    CU_ASSERT_DOUBLE_EQUAL(100.0 * all.in_range / all.knitters, 90, 4);
    CU_ASSERT_DOUBLE_EQUAL(100.0 * all.sure_true / all.sure, 95, 3);
    for (int i = 0; i < BINS; i++)
        CU_ASSERT_DOUBLE_EQUAL(100.0 * all.came_true[i] / all.bin[i], 100 * all.said[i] / all.bin[i],
                               10);
}

CU_TestInfo tests_likely[] = {
    {"printed normal distribution", test_printed_normal},
    {"gauge by hand", test_gauge_by_hand},
    {"variance by hand", test_variance_by_hand},
    {"knitters of the model", test_knitters_of_the_model},
    {"knitters of another law", test_knitters_of_another_law},
    CU_TEST_INFO_NULL,
};
