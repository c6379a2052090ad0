/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a scale says of the rest: the belief against closed forms, against least squares with the
 * errors as further observations, and against knitters drawn from the same errors; then whole
 * plans. Nothing published was found for weighings of knitting: the source of each check is named
 * beside it.
 */
#include <CUnit/CUnit.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "run.h"
#include "base/arena.h"
#include "base/text.h"
#include "check/check.h"
#include "fixture_project.h"
#include "model/yarn/weighed.h"
#include "plan/plan.h"
#include "read/chart/chart.h"

extern CU_TestInfo tests_weighed[];

static const double nine = 1.644854; /* nine in ten, printed in any table of the normal */

static double square(double value)
{
    return value * value;
}

/* --- the model ------------------------------------------------------------------------------ */

/* One error of sd 0.05, 23.85 g then 41.2 g reckoned, 1.1 and 2.3 g more used, a scale of 1 g:
 * precision 1/sd^2 + sum a^2 / r, mean sum a y / r over that (any book on the normal). */
static void test_one_error(void)
{
    const double a[2] = {23.85, 41.2}, y[2] = {1.1, 2.3}, r = 1.0 / 12.0;
    double mean[1] = {0}, covariance[1] = {0.05 * 0.05}, scratch[1];
    struct weighed_belief belief = {1, mean, covariance};
    double precision = 1.0 / (0.05 * 0.05), sum = 0.0;
    struct weighed_surprise first;

    for (int i = 0; i < 2; i++) {
        precision += a[i] * a[i] / r;
        sum += a[i] * y[i] / r;
    }
    CU_ASSERT_DOUBLE_EQUAL(weighed_scale_sd(1.0), sqrt(r), 1e-15);
    first = weighed_take(&belief, &a[0], y[0], weighed_scale_sd(1.0), scratch);
    CU_ASSERT_DOUBLE_EQUAL(first.off, 1.1, 1e-15);
    CU_ASSERT_DOUBLE_EQUAL(first.sd, sqrt(23.85 * 23.85 * 0.0025 + r), 1e-12);
    weighed_take(&belief, &a[1], y[1], weighed_scale_sd(1.0), scratch);
    CU_ASSERT_DOUBLE_EQUAL(mean[0], sum / precision, 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(covariance[0], 1.0 / precision, 1e-15);
}

/* Two errors that go together, three readings: the normal equations (C^-1 + sum r r' / v) x =
 * sum r y / v, two by two, solved by Cramer's rule. Without the last the two are not told apart. */
static void test_two_errors(void)
{
    const double row[3][2] = {{31.4, 2.385}, {12.7, 9.81}, {5.5, 17.2}}, y[3] = {0.92, -0.4, 1.3};
    const double c[3] = {0.0016, -0.0006, 0.0025}, v = square(0.31);
    double mean[2] = {0}, covariance[4] = {c[0], c[1], c[1], c[2]}, scratch[2];
    struct weighed_belief belief = {2, mean, covariance};
    double det = c[0] * c[2] - c[1] * c[1];
    double n00 = c[2] / det, n01 = -c[1] / det, n11 = c[0] / det, b0 = 0, b1 = 0;
    const double rest[2] = {14.4, 8.2};

    for (int i = 0; i < 3; i++) {
        n00 += row[i][0] * row[i][0] / v;
        n01 += row[i][0] * row[i][1] / v;
        n11 += row[i][1] * row[i][1] / v;
        b0 += row[i][0] * y[i] / v;
        b1 += row[i][1] * y[i] / v;
        weighed_take(&belief, row[i], y[i], 0.31, scratch);
    }
    det = n00 * n11 - n01 * n01;
    CU_ASSERT_DOUBLE_EQUAL(mean[0], (b0 * n11 - b1 * n01) / det, 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(mean[1], (n00 * b1 - n01 * b0) / det, 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(weighed_mean(&belief, rest), 14.4 * mean[0] + 8.2 * mean[1], 1e-14);
    CU_ASSERT_DOUBLE_EQUAL(
        weighed_variance(&belief, rest, scratch),
        (14.4 * 14.4 * n11 - 2 * 14.4 * 8.2 * n01 + 8.2 * 8.2 * n00) / det, 1e-12);
}

/* P(chi-square of 2 > x) = e^(-x/2), exactly. */
static void test_excess(void)
{
    CU_ASSERT_DOUBLE_EQUAL(weighed_excess(20.0, 2, 0.01), 10.0, 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(weighed_excess(9.2, 2, 0.01), 1.0, 0);  /* e^-4.6 = 0.01005 */
    CU_ASSERT_DOUBLE_EQUAL(weighed_excess(9.22, 2, 0.01), 4.61, 1e-12); /* 0.00995 */
    CU_ASSERT_DOUBLE_EQUAL(weighed_excess(50.0, 0, 0.01), 1.0, 0);
}

/* A ball wound off between two readings: the second tells what is left, and nothing of the hands. */
static void test_unsettled(void)
{
    const double first[2] = {1.0, -20.0}, second[2] = {1.0, -45.0};
    double mean[2] = {0}, covariance[4] = {0.01, 0, 0, 0.0025}, scratch[2], before;
    struct weighed_belief belief = {2, mean, covariance};

    weighed_take(&belief, first, -0.6, 0.03, scratch);
    before = mean[1];
    CU_ASSERT_TRUE(before > 0.02);
    weighed_unsettle(&belief, 0, 1000.0);
    weighed_take(&belief, second, 17.0, 0.03, scratch);
    CU_ASSERT_DOUBLE_EQUAL(mean[1], before, 1e-4);
    CU_ASSERT_DOUBLE_EQUAL(weighed_mean(&belief, second), 17.0, 1e-4);
}

/* --- whole plans ------------------------------------------------------------------------------ */

static int seen_code(const struct work *work, enum diag_code code)
{
    int count, seen = 0;
    const struct diag *all = diagnostics_sorted(work->diagnostics, &count);

    for (int i = 0; i < count; i++)
        seen += all[i].code == code;
    return seen;
}

static const struct plan *plan_or_none(struct work *work, const char *text)
{
    const struct source *source = source_from_text(work, "tests/projects/weighed-test.ini", text);
    const struct project *project = project_read_source(work, source);
    const struct chart *charts[8] = {NULL};

    for (int i = 0; i < project->nparts; i++)
        if (project->parts[i].kind == PART_BAND)
            charts[i] = chart_read_band(work, project, &project->parts[i]);
    check_project(work, project, charts);
    return diagnostics_fatal(work->diagnostics) ? NULL : plan_build(work, project, charts);
}

static const struct plan *plan_of(struct work *work, const char *text)
{
    const struct plan *plan = plan_or_none(work, text);

    if (!plan)
        fprintf(stderr, "%s", fixture_printed(work, false));
    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    return plan;
}

/* Steps: 1 cast-on, 2 rib, 3 increases, 4 band, 5 decreases, 6 leg, 7 foot. */
#define SOCK_OF(MEASURED)                                                                          \
    "[project]\nmake = 2\n[swatch]\nworked = round\nwashed = yes\nover = 4 in\n"                   \
    "stitches = 32, 32 1/4, 32\nrows = 38, 38 1/4, 38\n" MEASURED                                  \
    "[cast-on]\nyarn = cream\nrib = knit 2 purl 2, 12 rounds\nrib stitches = 72\n"                 \
    "[band ripple]\nchart = ripple.chart\nrepeats = 7\n[plain leg]\nyarn = cream\nrounds = 30\n"   \
    "stitches on needle = 72\n[plain foot]\nyarn = cream\nstitches = 9000\n"                       \
    "[yarn cream]\nmark = .\nball = 50 g, 210 m\n[yarn slate]\nmark = x\nball = 50 g, 210 m\n"     \
    "[edges]\nbind-off = none\n[float]\nplacement = quick\n"
#define SOCK SOCK_OF("")
#define TAPED SOCK_OF("unravelled = 100 stitches took 48 in\n")

static const struct plan_weighed_yarn *weighed_yarn(const struct plan *plan, int yarn)
{
    CU_ASSERT_PTR_NOT_NULL_FATAL(plan->weighed);
    for (int i = 0; i < plan->weighed->nyarns; i++)
        if (plan->weighed->yarns[i].yarn == yarn)
            return &plan->weighed->yarns[i];
    CU_FAIL_FATAL("that yarn is not there");
    return NULL;
}

/* The first of two pieces weighed before and after. One error V common to both, as the range of the
 * plan has it, and hands of 2 % for each piece of their own: with d = V + hands + two roundings the
 * rest is E + (used - E) V / d and its variance V + hands - V^2 / d (two normals of which one is
 * seen). Of what the hands do: stitches, floats and plain parts. */
static void check_pair(const char *sock, double used_g, double scale_g, const char *scale)
{
    struct work work = fixture_work_with_tables();
    const struct plan *plan = plan_of(
        &work, arena_printf(work.arena,
                            "%s[weighed]\nscale = %s\nweighing = to begin with: cream 100 g\n"
                            "weighing 2 = after piece 1: cream %.1f g\n",
                            sock, scale, 100.0 - used_g));
    const struct plan_yarn *cream = &plan->piece.yarns[0];
    const struct plan_weighed_yarn *yarn = weighed_yarn(plan, 0);
    double log_sd = log(cream->likely.buy_high_m / cream->likely.buy_low_m) / 2 / nine;
    double reckoned = cream->each_grams, gram_m = cream->ball_g / cream->ball_m;
    double common = square(2 * reckoned) * (exp(log_sd * log_sd) - 1) / 4;
    const double *use = cream->each_use_m;
    double hands = square((use[USE_STITCHES] + use[USE_FLOATS] + use[USE_PLAIN] + use[USE_RIB]) *
                          gram_m * 0.02 / nine);
    double seen = common + hands + scale_g * scale_g / 6;
    double rest = reckoned + (used_g - reckoned) * common / seen;
    double rest_sd = sqrt(log(1 + (common + hands - common * common / seen) / (rest * rest)));

    CU_ASSERT_DOUBLE_EQUAL(yarn->before.rest_g, reckoned, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(yarn->after.rest_g, rest, 1e-5);
    CU_ASSERT_DOUBLE_EQUAL(yarn->after.low_m, rest / gram_m * exp(-nine * rest_sd), 1e-3);
    CU_ASSERT_DOUBLE_EQUAL(yarn->after.high_m, rest / gram_m * exp(nine * rest_sd), 1e-3);
    CU_ASSERT_DOUBLE_EQUAL(yarn->left_g, 100 - used_g, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(yarn->factor, rest / reckoned, 1e-6);
    CU_ASSERT_TRUE(yarn->after.high_m - yarn->after.low_m <
                   yarn->before.high_m - yarn->before.low_m);
    CU_ASSERT_DOUBLE_EQUAL(plan->weighed->readings[1].explained_part,
                           nine * sqrt(seen) / reckoned, 1e-5);
    fixture_end(&work);
}

static void test_pair(void)
{
    check_pair(TAPED, 41.0, 1.0, "1 g");
    check_pair(TAPED, 41.3, 0.1, "0.1 g");
    check_pair(SOCK, 35.0, 1.0, "1 g");
}

/* --- knitters drawn from the same errors ------------------------------------------------------- */

struct hands {
    double loop, slack, drift, width, height, catches, edge, rib, ball[2];
};

static struct hands draw_hands(gsl_rng *rng, const struct plan *plan)
{
    const struct plan_piece *piece = &plan->piece;
    double place = 0.02 / nine / sqrt(3), ball = gsl_ran_gaussian(rng, 0.04 / nine * sqrt(0.5));

    return (struct hands){
        .loop = gsl_ran_gaussian(rng, piece->loop.error_part / nine),
        .slack = gsl_ran_gaussian(rng, 0.1 / nine / 1.10),
        .drift = gsl_ran_gaussian(rng, 0.03 / nine),
        .width = gsl_ran_gaussian(
            rng, fmax(place, piece->gauge.gauge.stitches.half_width / 4.302653)),
        .height =
            gsl_ran_gaussian(rng, fmax(place, piece->gauge.gauge.rows.half_width / 4.302653)),
        .catches = gsl_ran_gaussian(rng, 0.5 / nine),
        .edge = gsl_ran_gaussian(rng, 0.15 / nine),
        .rib = gsl_ran_gaussian(rng, 0.05 / nine),
        .ball = {ball + gsl_ran_gaussian(rng, 0.04 / nine * sqrt(0.5)),
                 ball + gsl_ran_gaussian(rng, 0.04 / nine * sqrt(0.5))}};
}

/* What she truly uses in a step: products, not the sums of the model. */
static double true_g(const struct plan *plan, const struct hands *hands, double stretch, int step,
                     int yarn)
{
    const struct plan_piece *piece = &plan->piece;
    const double *use = piece->step_use_m[step * piece->nyarns + yarn];
    double tension = (1 + hands->drift) * (1 + stretch);
    double loop = (1 + hands->loop) * (1 - hands->width / 2) * (1 - hands->height / 2) * tension;
    double edges = use[USE_TAILS] + use[USE_CARRIED] +
                   (use[USE_CAST_ON] + use[USE_BIND_OFF]) * (1 - hands->width);
    double metres = (use[USE_STITCHES] + use[USE_PLAIN] + use[USE_RIB] * (1 + hands->rib)) * loop +
                    use[USE_FLOATS] * (1 + hands->slack) * (1 - hands->width) * tension +
                    use[USE_CATCHES] * (1 + hands->catches) * (1 - hands->width) +
                    edges * (1 + hands->edge);

    return metres * piece->yarns[yarn].ball_g / piece->yarns[yarn].ball_m / (1 + hands->ball[yarn]);
}

static double rounded(double grams, double step)
{
    return step * round(grams / step);
}

struct held {
    int n, rest[2], enough_sum;
    double narrower[2];
};

/* Weighed to begin with, after the band, after the leg and after the first piece. */
static void knit_once(gsl_rng *rng, const struct plan *plan, double scale, const char *scale_words,
                      bool by_bands, struct held *held)
{
    static const int after[] = {3, 5, 6};
    struct work work = fixture_work_with_tables();
    struct hands hands = draw_hands(rng, plan);
    struct text text = text_create(work.arena);
    double left[2] = {100, 50}, rest[2] = {0, 0};
    double stretch = gsl_ran_gaussian(rng, 0.02 / nine);
    const struct plan *told;

    text_addf(&text, SOCK "[weighed]\nscale = %s\n%s", scale_words,
              by_bands ? "" : "weighing = to begin with: cream 100 g, slate 50 g\n");
    for (int yarn = 0; by_bands && yarn < 2; yarn++)
        left[yarn] = plan->weighings[0].left_g[yarn] * (1 + gsl_ran_gaussian(rng, 0.05 / nine));
    for (int step = 0, k = 0; step < 7; step++) {
        for (int yarn = 0; yarn < 2; yarn++)
            left[yarn] -= true_g(plan, &hands, stretch, step, yarn);
        if (step != after[k])
            continue;
        text_addf(&text, "weighing %d = after step %d: cream %.1f g, slate %.1f g\n", k + 2, step + 1,
                  rounded(left[0], scale), rounded(left[1], scale));
        stretch = gsl_ran_gaussian(rng, 0.02 / nine);
        k++;
    }
    for (int yarn = 0; yarn < 2; yarn++)
        for (int step = 0; step < 7; step++)
            rest[yarn] += true_g(plan, &hands, stretch, step, yarn);
    told = plan_of(&work, text.bytes);
    for (int yarn = 0; yarn < 2; yarn++) {
        const struct plan_weighed_yarn *one = weighed_yarn(told, yarn);
        double metres = rest[yarn] * 210 / 50;

        held->rest[yarn] += metres >= one->after.low_m && metres <= one->after.high_m;
        held->narrower[yarn] += (one->after.high_m - one->after.low_m) /
                                (one->before.high_m - one->before.low_m);
    }
    held->n++;
    fixture_end(&work);
}

/* The stated range of the rest holds nine in ten of them, and is far narrower than without. */
static void simulate(double scale, const char *scale_words, bool by_bands, double narrower_cream,
                     double narrower_slate)
{
    enum { KNITTERS = 1200 };
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    struct work work = fixture_work_with_tables();
    const struct plan *plan = plan_of(&work, SOCK);
    struct held held = {0};
    const double narrower[2] = {narrower_cream, narrower_slate};

    gsl_rng_set(rng, 20250);
    CU_ASSERT_EQUAL_FATAL(plan->piece.nsteps, 7);
    for (int i = 0; i < KNITTERS; i++)
        knit_once(rng, plan, scale, scale_words, by_bands, &held);
    for (int yarn = 0; yarn < 2; yarn++) {
        double part = (double)held.rest[yarn] / held.n;

        printf("\n    scale %s, %s: held %.1f %%, range %.2f of that without ", scale_words,
               plan->piece.yarns[yarn].name, 100 * part, held.narrower[yarn] / held.n);
        CU_ASSERT_TRUE(part >= 0.88 && part <= 0.92);
        CU_ASSERT_TRUE(held.narrower[yarn] / held.n < narrower[yarn]);
    }
    gsl_rng_free(rng);
    fixture_end(&work);
}

static void test_knitters_fine(void)
{
    simulate(0.1, "0.1 g", false, 0.4, 0.5);
}

static void test_knitters_coarse(void)
{
    simulate(1.0, "1 g", false, 0.5, 0.6);
}

/* Not weighed to begin with: a ball is within 5 % of its band. */
static void test_knitters_by_bands(void)
{
    simulate(1.0, "1 g", true, 0.6, 0.8);
}

/* --- verdicts, places, running out ------------------------------------------------------------------ */

static enum weighed_verdict verdict_at(double used_g, double *factor)
{
    struct work work = fixture_work_with_tables();
    const struct plan *plan =
        plan_of(&work, arena_printf(work.arena,
                                    "%s[weighed]\nscale = 0.1 g\nweighing = to begin with: cream 100 g\n"
                                    "weighing 2 = after piece 1: cream %.1f g\n",
                                    TAPED, 100 - used_g));
    enum weighed_verdict verdict = plan->weighed->readings[1].verdict;

    *factor = weighed_yarn(plan, 0)->factor;
    CU_ASSERT_DOUBLE_EQUAL(plan->weighed->readings[1].used_g, used_g, 1e-9);
    fixture_end(&work);
    return verdict;
}

/* Some 40 g reckoned, within 5 % or so nine times in ten. Far less teaches nothing, far more does. */
static void test_verdicts(void)
{
    struct work work = fixture_work_with_tables();
    double reckoned = plan_of(&work, TAPED)->piece.yarns[0].each_grams, factor;

    reckoned = round(10 * reckoned) / 10;
    CU_ASSERT_EQUAL(verdict_at(reckoned, &factor), WEIGHED_WITHIN);
    CU_ASSERT_DOUBLE_EQUAL(factor, 1, 0.002);
    CU_ASSERT_EQUAL(verdict_at(round(11.2 * reckoned) / 10, &factor), WEIGHED_MORE);
    CU_ASSERT_TRUE(factor > 1.06 && factor < 1.12);
    CU_ASSERT_EQUAL(verdict_at(round(8.8 * reckoned) / 10, &factor), WEIGHED_LESS);
    CU_ASSERT_TRUE(factor < 0.94 && factor > 0.88);
    CU_ASSERT_EQUAL(verdict_at(round(13.2 * reckoned) / 10, &factor), WEIGHED_FAR_MORE);
    CU_ASSERT_TRUE(factor > 1.15);
    CU_ASSERT_EQUAL(verdict_at(round(6.8 * reckoned) / 10, &factor), WEIGHED_FAR_LESS);
    CU_ASSERT_DOUBLE_EQUAL(factor, 1, 0.001);
    fixture_end(&work);
}

/* 55 g to begin with, some 40 g used in the first: the second ends where 15 of its 40 g are gone. */
static void test_runs_out(void)
{
    struct work work = fixture_work_with_tables();
    const struct plan *plan = plan_of(
        &work, TAPED "[weighed]\nscale = 0.1 g\nweighing = to begin with: cream 57 g, slate 50 g\n"
                     "weighing 2 = after piece 1: cream 17 g, slate 48 g\n");
    const struct plan_weighed_yarn *cream = weighed_yarn(plan, 0), *slate = weighed_yarn(plan, 1);
    double used_m = 0, left_m = 17.0 / cream->factor * 210 / 50;

    CU_ASSERT_TRUE(cream->runs_out);
    CU_ASSERT_TRUE(cream->after.chance < 0.001);
    CU_ASSERT_EQUAL(cream->after.more_balls, 1);
    CU_ASSERT_TRUE(cream->after.more_chance > 0.99);
    CU_ASSERT_EQUAL(cream->out.piece, 2);
    for (int step = 0; step < cream->out.step; step++)
        used_m += plan->piece.step_m[step * 2];
    CU_ASSERT_TRUE(used_m <= left_m);
    CU_ASSERT_TRUE(used_m + plan->piece.step_m[cream->out.step * 2] >= left_m);
    CU_ASSERT_FALSE(slate->runs_out);
    CU_ASSERT_EQUAL(slate->after.more_balls, 0);
    CU_ASSERT_EQUAL(seen_code(&work, DIAG_WEIGHED_SHORT), 1);
    fixture_end(&work);
}

/* Every way of saying when; and what should be left there is the plan's own table. */
static void test_places(void)
{
    struct work work = fixture_work_with_tables();
    const struct plan *plan = plan_of(
        &work, TAPED "[weighed]\nweighing = to begin with: cream 100 g\n"
                     "weighing 2 = after step 2: cream 97,5 g\nweighing 5 = step 4, 1st time: cream 95 g\n"
                     "weighing 12 = After Step 7: cream 60 g, Slate 48 1/2 g\n"
                     "weighing 40 = after step 2 of piece 2: cream 57 g\n");
    const struct plan_weighed_reading *all = plan->weighed->readings;
    static const int step[] = {-1, 1, 3, 6, 6, 1}, piece[] = {1, 1, 1, 1, 1, 2};
    static const int number[] = {1, 2, 5, 12, 12, 40};

    CU_ASSERT_EQUAL_FATAL(plan->weighed->nreadings, 6);
    for (int i = 0; i < 6; i++) {
        CU_ASSERT_EQUAL(all[i].step, step[i]);
        CU_ASSERT_EQUAL(all[i].piece, piece[i]);
        CU_ASSERT_EQUAL(all[i].number, number[i]);
        CU_ASSERT_EQUAL(all[i].time, 0);
        if (piece[i] == 1)
            for (int k = 0; k < plan->nweighings; k++)
                if (plan->weighings[k].piece == 1 && plan->weighings[k].step == step[i])
                    CU_ASSERT_DOUBLE_EQUAL(all[i].should_g, plan->weighings[k].left_g[all[i].yarn],
                                           1e-9);
    }
    CU_ASSERT_DOUBLE_EQUAL(all[1].weighed_g, 97.5, 0);
    CU_ASSERT_DOUBLE_EQUAL(all[4].weighed_g, 48.5, 0);
    CU_ASSERT_EQUAL(plan->weighed->ahead[0].step, 2);
    CU_ASSERT_EQUAL(plan->weighed->ahead[0].piece, 2);
    CU_ASSERT_EQUAL(plan->weighed->nahead, 5);
    fixture_end(&work);
}

/* 2.3 g of core each time: nothing else moves. */
static void test_not_yarn(void)
{
    struct work work = fixture_work_with_tables();
    const struct plan *plain = plan_of(
        &work, TAPED "[weighed]\nweighing = to begin with: cream 100 g\n"
                     "weighing 2 = after piece 1: cream 58.2 g\n");
    const struct plan *core = plan_of(
        &work, TAPED "[weighed]\nnot yarn = cream 2.3 g\nweighing = to begin with: cream 102.3 g\n"
                     "weighing 2 = after piece 1: cream 60.5 g\n");

    CU_ASSERT_DOUBLE_EQUAL(weighed_yarn(plain, 0)->after.rest_g, weighed_yarn(core, 0)->after.rest_g,
                           1e-9);
    CU_ASSERT_DOUBLE_EQUAL(weighed_yarn(plain, 0)->left_g, weighed_yarn(core, 0)->left_g, 1e-9);
    CU_ASSERT_EQUAL(seen_code(&work, DIAG_WEIGHED_START), 0);
    fixture_end(&work);
}

static void test_none(void)
{
    struct work work = fixture_work_with_tables();

    CU_ASSERT_PTR_NULL(plan_of(&work, SOCK)->weighed);
    CU_ASSERT_PTR_NULL(plan_of(&work, SOCK "[weighed]\nscale = 1 g\n")->weighed);
    CU_ASSERT_PTR_NULL(plan_or_none(&work, SOCK "[weighed]\nweighing 41 = after step 2: cream 90 g\n"));
    CU_ASSERT_EQUAL(seen_code(&work, DIAG_KEY_UNKNOWN), 1);
    fixture_end(&work);
}

CU_TestInfo tests_weighed[] = {
    {"one error in closed form", test_one_error},
    {"two errors by the normal equations", test_two_errors},
    {"weighings that differ", test_excess},
    {"a ball wound off", test_unsettled},
    {"one of a pair weighed, in closed form", test_pair},
    {"knitters with a scale of 0.1 g", test_knitters_fine},
    {"knitters with a scale of 1 g", test_knitters_coarse},
    {"knitters who trust the bands", test_knitters_by_bands},
    {"verdicts on a weighing", test_verdicts},
    {"a yarn that runs out", test_runs_out},
    {"when it was weighed", test_places},
    {"what is no yarn", test_not_yarn},
    {"no weighing, no change", test_none},
    CU_TEST_INFO_NULL};
