/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * From a project to the range of each yarn and the balls that are enough: every figure again by
 * hand from the metres of the plan, with the limits of the table written out and the normal
 * distribution by erfc().
 */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "run.h"
#include "fixture_project.h"
#include "plan/plan.h"
#include "read/chart/chart.h"
#include "render/render.h"

extern CU_TestInfo tests_range[];

static const double nine = 1.644854; /* nine in ten, printed in any table of the normal */

#define BAND                                                                                       \
    "[band reeds]\nchart = reeds.chart\nrepeats = 26\nupwards = 4\n"                               \
    "[yarn ground]\nmark = .\nball = 25 g, 45 m\n[yarn reed]\nmark = x\nball = 25 g, 45 m\n"
#define GAUGE                                                                                      \
    "[swatch]\nworked = round\nwashed = yes\nover = 4 in\nstitches = 20, 20 1/4, 20\n"             \
    "rows = 26, 26 1/4, 26\n"

static const struct plan *plan_of(struct work *work, const char *text)
{
    const struct source *source = source_from_text(work, "tests/projects/range.ini", text);
    const struct project *project = project_read_source(work, source);
    const struct chart *charts[4] = {NULL};

    for (int i = 0; i < project->nparts; i++)
        if (project->parts[i].kind == PART_BAND)
            charts[i] = chart_read_band(work, project, &project->parts[i]);
    if (diagnostics_fatal(work->diagnostics))
        fprintf(stderr, "%s", fixture_printed(work, false));
    CU_ASSERT_FALSE_FATAL(diagnostics_fatal(work->diagnostics));
    return plan_build(work, project, charts);
}

static double square(double value)
{
    return value * value;
}

/* Standard error of a gauge counted in three places: at least 2 % nine in ten over root 3. */
static double counted_sd(const struct gauge_axis *axis)
{
    return fmax(0.02 / nine / sqrt(3), axis->half_width / 4.302653);
}

/* Nothing measured: stitches 15 % and half of each gauge, drift 3 %, slack 10 % of 1.10 and the
 * width, catches half, edges and tails 15 %. */
static void test_gauge_alone(void)
{
    struct work work = fixture_work_with_tables();
    const struct plan *plan = plan_of(&work, GAUGE BAND);
    const struct plan_piece *piece = &plan->piece;

    CU_ASSERT_EQUAL(piece->loop.method, LOOP_FROM_GAUGE);
    for (int i = 0; i < 2; i++) {
        const struct plan_yarn *yarn = &piece->yarns[i];
        const double *use = yarn->use_m;
        double loops = use[USE_STITCHES], floats = use[USE_FLOATS];
        double edges = use[USE_CAST_ON] + use[USE_BIND_OFF] + use[USE_TAILS] + use[USE_CARRIED];
        double widths = use[USE_CATCHES] + use[USE_CAST_ON] + use[USE_BIND_OFF] + floats;
        double law = fmax(0.15, piece->loop.spread_part / 2) / nine;
        double variance =
            square(loops * law) + square((loops + floats) * 0.03 / nine) +
            square(floats * 0.1 / nine / 1.10) + square(use[USE_CATCHES] * 0.5 / nine) +
            square(edges * 0.15 / nine) +
            square((widths + loops / 2) * counted_sd(&piece->gauge.gauge.stitches)) +
            square(loops / 2 * counted_sd(&piece->gauge.gauge.rows));
        double log_sd = sqrt(log(1 + variance / square(yarn->length_m)));

        CU_ASSERT_DOUBLE_EQUAL(loops + floats + edges + use[USE_CATCHES], yarn->length_m, 1e-9);
        CU_ASSERT_DOUBLE_EQUAL(yarn->likely.low_m, yarn->length_m * exp(-nine * log_sd), 1e-4);
        CU_ASSERT_DOUBLE_EQUAL(yarn->likely.high_m, yarn->length_m * exp(nine * log_sd), 1e-4);
    }
    fixture_end(&work);
}

/* Phi(z), not by the library. */
static double phi(double z)
{
    return erfc(-z / sqrt(2)) / 2;
}

static void check_balls(const struct plan_yarn *yarn, double confidence)
{
    const struct plan_likely *likely = &yarn->likely;
    double middle_m = sqrt(likely->buy_low_m * likely->buy_high_m);
    double log_sd = log(likely->buy_high_m / likely->buy_low_m) / 2 / nine;
    bool found = false;

    CU_ASSERT_TRUE(likely->nenough > 0);
    for (int i = 0; i < likely->nenough; i++) {
        int64_t k = likely->enough[i].balls;
        /* each further ball costs a join of two ends of 6 in, 0.3048 m */
        double have_m = (double)k * yarn->ball_m - (double)(k - 1) * 0.3048;

        CU_ASSERT_DOUBLE_EQUAL(likely->enough[i].chance, phi(log(have_m / middle_m) / log_sd), 1e-5);
        CU_ASSERT_TRUE(i == 0 || k == likely->enough[i - 1].balls + 1);
        if (k == likely->sure_balls)
            found = likely->enough[i].chance >= confidence;
        if (k == likely->sure_balls - 1)
            CU_ASSERT_TRUE(likely->enough[i].chance < confidence);
        if (k == likely->sure_balls + 1)
            CU_ASSERT_DOUBLE_EQUAL(likely->enough[i].chance, likely->more_chance, 0);
    }
    CU_ASSERT_TRUE(found);
    CU_ASSERT_DOUBLE_EQUAL(likely->confidence, confidence, 1e-12);
}

static void test_balls(void)
{
    static const char *const asked[] = {"", "[buy]\nconfidence = 60 %\n",
                                        "[buy]\nconfidence = 99.8 %\n"};
    static const double confidence[] = {0.95, 0.6, 0.998};
    int64_t before = 0;

    for (int i = 0; i < 3; i++) {
        struct work work = fixture_work_with_tables();
        const struct plan *plan =
            plan_of(&work, arena_printf(work.arena, "%s%s", GAUGE BAND, asked[i]));

        check_balls(&plan->piece.yarns[0], confidence[i]);
        check_balls(&plan->piece.yarns[1], confidence[i]);
        if (i == 1)
            CU_ASSERT_TRUE(plan->piece.yarns[0].likely.sure_balls <= before);
        before = plan->piece.yarns[0].likely.sure_balls;
        fixture_end(&work);
    }
}

/* Very many balls: only the telling numbers, each with its chance, upwards. */
static void test_many_balls(void)
{
    struct work work = fixture_work_with_tables();
    const struct plan *plan =
        plan_of(&work, "[project]\nmake = 60\n" GAUGE BAND);
    const struct plan_likely *likely = &plan->piece.yarns[0].likely;

    CU_ASSERT_TRUE(likely->sure_balls > 30);
    CU_ASSERT_TRUE(likely->nenough > 4 && likely->nenough <= 9);
    for (int i = 1; i < likely->nenough; i++)
        CU_ASSERT_TRUE(likely->enough[i].balls > likely->enough[i - 1].balls &&
                       likely->enough[i].chance >= likely->enough[i - 1].chance);
    fixture_end(&work);
}

/* The advice kept: the row it asks for put in, as the plan would lead one to expect it, and what is
 * known then is what was promised. */
static void test_advice_comes_true(void)
{
    struct work work = fixture_work_with_tables();
    const struct plan *plan = plan_of(&work, GAUGE BAND);
    const struct plan_advice *advice = &plan->piece.loop.advice;
    double loop_in = plan->piece.loop.loop_mm / 25.4, strand_in = 1.10 / plan->piece.gauge.per_in;
    double then = advice->part_then;
    const char *line =
        advice->measure == MEASURE_STRANDED_ROW
            ? arena_printf(work.arena,
                           "unravelled = 40 stitches: ground 28 took %.3f in, reed 12 took %.3f in\n",
                           28 * loop_in + 12 * strand_in, 12 * loop_in + 28 * strand_in)
            : arena_printf(work.arena, "unravelled = 40 stitches took %.3f in\n", 40 * loop_in);

    CU_ASSERT_TRUE(advice->measure == MEASURE_STRANDED_ROW ||
                   advice->measure == MEASURE_PLAIN_ROW);
    CU_ASSERT_TRUE(then < 0.6 * advice->part_now);
    plan = plan_of(&work, arena_printf(work.arena, "%s%s%s", GAUGE, line, BAND));
    CU_ASSERT_TRUE(plan->piece.loop.method != LOOP_FROM_GAUGE);
    CU_ASSERT_DOUBLE_EQUAL(plan->piece.loop.advice.part_now, then, 0.0005);
    fixture_end(&work);
}

/* The stranded swatch unravelled row by row, the plain one weighed on a coarse scale, and most of the piece
 * plain: what helps is a row of the plain swatch. Kept, written under [swatch plain], it comes true. */
static void test_advice_for_the_plain_swatch(void)
{
    static const char rows[] =
        GAUGE "unravelled = 40 stitches: ground 28 took 25 in, reed 12 took 15 3/4 in\n"
              "unravelled 2 = 40 stitches: ground 28 took 25 in, reed 12 took 15 3/4 in\n"
              "unravelled 3 = 40 stitches took 32 in\nunravelled 4 = 40 stitches took 32 in\n"
              "[swatch plain]\nwashed = yes\nover = 4 in\nstitches = 19, 19, 19\nrows = 27, 27, 27\n"
              "weight = 13 g: 30 stitches, 40 rows\n";
    static const char body[] = BAND "[plain body]\nyarn = ground\nstitches = 60000\n";
    struct work work = fixture_work_with_tables();
    const struct plan *plan = plan_of(&work, arena_printf(work.arena, "%s%s", rows, body));
    const struct plan_advice *advice = &plan->piece.loop.advice;
    double in = plan->piece.loop.plain_loop_mm / 25.4, then = advice->part_then;

    CU_ASSERT_EQUAL(plan->piece.loop.plain_group, 1);
    CU_ASSERT_TRUE(advice->measure == MEASURE_PLAIN_ROW || advice->measure == MEASURE_MARKED);
    CU_ASSERT_TRUE(then < 0.8 * advice->part_now);
    plan = plan_of(&work, arena_printf(work.arena, "%s%s%.3f in\n%s", rows,
                                       advice->measure == MEASURE_MARKED ? "marked = 75 stitches took "
                                                                        : "unravelled = 40 stitches took ",
                                       in * (advice->measure == MEASURE_MARKED ? 75 : 40), body));
    CU_ASSERT_DOUBLE_EQUAL(plan->piece.loop.advice.part_now, then, 0.001);
    fixture_end(&work);
}

#define ROWS                                                                                       \
    "scale = 0.1 g\n"                                                                              \
    "unravelled = 40 stitches: ground 28 took 26 in, reed 12 took 15 1/4 in\n"                     \
    "unravelled 2 = 40 stitches of ground took 32 1/2 in\n"                                        \
    "unravelled 3 = 40 stitches of ground took 32 1/4 in\n"                                        \
    "unravelled 4 = 40 stitches of %s took %s in\n"                                                \
    "unravelled 7 = 40 stitches of %s took %s in\n"

/* Two yarns of one hand, or of two: 32 3/8 in for 40 of one, 30 5/8 in for 40 of the other. */
static void test_each_its_own_stitch(void)
{
    struct work work = fixture_work_with_tables();
    const struct plan *plan;

    plan = plan_of(&work, arena_printf(work.arena, "%s" ROWS "%s", GAUGE, "reed", "32 3/8", "reed",
                                       "32 1/2", BAND));
    CU_ASSERT_FALSE(plan->piece.loop.by_yarn);
    CU_ASSERT_EQUAL(plan->piece.loop.method, LOOP_FROM_SEVERAL);
    CU_ASSERT_EQUAL(plan->piece.loop.slack_origin, SLACK_MEASURED);
    CU_ASSERT_EQUAL(plan->piece.loop.nobservations, 6);
    plan = plan_of(&work, arena_printf(work.arena, "%s" ROWS "%s", GAUGE, "reed", "30 1/2", "reed",
                                       "30 3/4", BAND));
    CU_ASSERT_TRUE(plan->piece.loop.by_yarn);
    CU_ASSERT_DOUBLE_EQUAL(plan->piece.yarns[0].loop_mm, 32.375 / 40 * 25.4, 0.2);
    CU_ASSERT_DOUBLE_EQUAL(plan->piece.yarns[1].loop_mm, 30.625 / 40 * 25.4, 0.2);
    CU_ASSERT_DOUBLE_EQUAL(plan->piece.yarns[1].use_m[USE_STITCHES],
                           (double)plan->piece.yarns[1].stitches *
                               plan->piece.yarns[1].loop_mm / 1000,
                           1e-9);
    fixture_end(&work);
}

/* Sewn over slate, which has a stitch of its own: that is what the berry's yarn is reckoned from, so
 * its range is that of slate's stitch and the drift of 3 %. By hand from the fit. */
static void test_sewn_as_what_it_covers(void)
{
    struct work work = fixture_work_with_tables();
    const struct plan *plan = plan_of(
        &work, GAUGE "unravelled = 40 stitches of cream took 32 1/2 in\n"
                     "unravelled 2 = 40 stitches of cream took 32 1/4 in\n"
                     "unravelled 3 = 40 stitches of slate took 30 1/2 in\n"
                     "unravelled 4 = 40 stitches of slate took 30 3/4 in\n"
                     "[band lone]\nchart = choices.chart\nrepeats = 8\n[yarn cream]\nmark = .\n"
                     "[yarn slate]\nmark = x\n[yarn berry]\nmark = o\nduplicate over = slate\n");
    const struct plan_yarn *slate = &plan->piece.yarns[1], *berry = &plan->piece.yarns[2];
    const struct plan_yarn_loop *covered = &plan->piece.loop.yarn[1];
    double variance =
        covered->fit->covariance[covered->group][covered->group] + square(0.03 / nine);

    CU_ASSERT_TRUE_FATAL(plan->piece.loop.by_yarn);
    CU_ASSERT_TRUE(slate->loop_mm < 0.98 * plan->piece.loop.loop_mm);
    CU_ASSERT_DOUBLE_EQUAL(berry->loop_mm, slate->loop_mm, 0);
    CU_ASSERT_DOUBLE_EQUAL(berry->length_m, berry->use_m[USE_DUPLICATE], 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(log(berry->likely.high_m / berry->length_m),
                           nine * sqrt(log(1 + variance)), 1e-6);
    fixture_end(&work);
}

/* By hand: 11.5 g at 45 m to 25 g are 20.7 m of 950 stitches and 650 floats of 5.08 x 1.10 mm. */
static void test_ball_weighed(void)
{
    struct work work = fixture_work_with_tables();
    const struct plan *plan = plan_of(
        &work, GAUGE "ball weighed = reed 23.9 g to 12.4 g: 1600 stitches, 950 in reed\n" BAND);
    double width_mm = plan->piece.gauge.stitch_width_mm;

    CU_ASSERT_EQUAL(plan->piece.loop.method, LOOP_FROM_BALL);
    CU_ASSERT_DOUBLE_EQUAL(plan->piece.loop.loop_mm,
                           (11.5 / 25 * 45 * 1000 - 650 * width_mm * 1.10) / 950, 1e-6);
    CU_ASSERT_EQUAL(plan->piece.loop.slack_origin, SLACK_TABLE);
    fixture_end(&work);
}

/* By hand, half the length of a swatch in a yarn of 4 m to the gram, half in one of 2: 36 m of it weigh
 * 18 / 4 + 18 / 2 = 13.5 g, and 36 m over 1760 stitches are 20.4545 mm, a float of 5.08 x 1.10 with it. */
static void test_swatch_of_two_weights(void)
{
    struct work work = fixture_work_with_tables();
    const struct plan *plan = plan_of(
        &work, GAUGE "scale = 0.1 g\nweight = 13.5 g: 40 stitches, 44 rows\n"
                     "[band reeds]\nchart = reeds.chart\nrepeats = 26\n[yarn ground]\nmark = .\n"
                     "ball = 50 g, 200 m\n[yarn reed]\nmark = x\nball = 50 g, 100 m\n");

    CU_ASSERT_EQUAL(plan->piece.loop.method, LOOP_FROM_WEIGHT);
    CU_ASSERT_DOUBLE_EQUAL(plan->piece.loop.loop_mm,
                           36000.0 / 1760 - plan->piece.gauge.stitch_width_mm * 1.10, 1e-6);
    fixture_end(&work);
}

/* As fine as it is written: by hand, 25.3 g is a step of 0.1 g, 0.89 oz one of 0.01 oz (0.283 g), 0.9
 * oz one of 0.1 oz (2.83 g), 1 oz one of 28.3 g; at 1.8 m to the gram, over root 12. */
static void test_scale_as_written(void)
{
    static const struct {
        const char *weight;
        double mass_g, step_g;
    } cases[] = {{"25 g", 25, 1},
                 {"25.3 g", 25.3, 0.1},
                 {"25.34 g", 25.34, 0.01},
                 {"0.89 oz", 0.89 * 28.349523125, 0.28349523125},
                 {"0.9 oz", 0.9 * 28.349523125, 2.8349523125},
                 {"1 oz", 28.349523125, 28.349523125}};

    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct work work = fixture_work_with_tables();
        const struct plan *plan = plan_of(
            &work, arena_printf(work.arena, GAUGE "weight = %s: 40 stitches, 44 rows\n" BAND,
                                cases[i].weight));
        double left_on_g = 0.01 / nine * cases[i].mass_g;

        CU_ASSERT_DOUBLE_EQUAL(plan->piece.loop.observations[0].sd_mm,
                               1800 * hypot(cases[i].step_g / sqrt(12), left_on_g), 1e-2);
        fixture_end(&work);
    }
}

/* A marked yard: 45 stitches. Plain rows of the plain swatch stand for its own fabric. */
static void test_marked_and_plain(void)
{
    struct work work = fixture_work_with_tables();
    const struct plan *plan = plan_of(
        &work, GAUGE "marked = 45 stitches took 36 in\n[swatch plain]\nwashed = yes\nover = 4 in\n"
                     "stitches = 19, 19 1/4\nrows = 27, 27\nmarked = 44 stitches of reed took 36 in\n"
                     BAND "[plain hem]\nyarn = reed\nlength = 2 in\n");

    CU_ASSERT_DOUBLE_EQUAL(plan->piece.loop.loop_mm, 36 * 25.4 / 45, 1e-6);
    CU_ASSERT_DOUBLE_EQUAL(plan->piece.loop.plain_loop_mm, 36 * 25.4 / 44, 1e-6);
    CU_ASSERT_EQUAL(plan->piece.loop.method, LOOP_FROM_SEVERAL);
    CU_ASSERT_FALSE(plan->piece.loop.by_yarn);
    fixture_end(&work);
}

/* Made from a stitch of 0.80 in, floats of 1.10 x 4/20 1/12 in, plain stitches of 36/44 in, and
 * rounded as tape and scale round: all that comes back, within half of what it is said to be out. */
static void test_all_together(void)
{
    struct work work = fixture_work_with_tables();
    const struct plan *plan = NULL;
    const struct plan_loop *loop;

    CU_ASSERT_EQUAL_FATAL(run_plan(&work, "tests/projects/measured.ini", &plan), RUN_DONE);
    loop = &plan->piece.loop;
    CU_ASSERT_EQUAL(loop->method, LOOP_FROM_SEVERAL);
    CU_ASSERT_EQUAL(loop->nobservations, 10);
    CU_ASSERT_EQUAL(loop->slack_origin, SLACK_MEASURED);
    CU_ASSERT_FALSE(loop->by_yarn);
    CU_ASSERT_DOUBLE_EQUAL(loop->excess, 1, 0);
    CU_ASSERT_DOUBLE_EQUAL(loop->loop_mm / 25.4, 0.80, 0.80 * loop->error_part / 2);
    CU_ASSERT_DOUBLE_EQUAL(loop->plain_loop_mm / 25.4, 36.0 / 44, 36.0 / 44 * loop->error_part / 2);
    CU_ASSERT_DOUBLE_EQUAL(loop->slack_ratio, 1.10, 0.03);
    CU_ASSERT_TRUE(loop->error_part < 0.025);
    CU_ASSERT_EQUAL(loop->advice.measure, MEASURE_NOTHING);
    fixture_end(&work);
}

/* Contradictions make the range wider, whether or not the yarns differ. */
static void test_wider_by_doubt(void)
{
    static const char *const rows[] = {
        "unravelled = 40 stitches took 32 in\nunravelled 2 = 40 stitches took 32 1/4 in\n",
        "unravelled = 40 stitches took 31 in\nunravelled 2 = 40 stitches took 33 1/4 in\n"};
    double part[2], over[2];

    for (int i = 0; i < 2; i++) {
        struct work work = fixture_work_with_tables();
        const struct plan *plan = plan_of(&work, arena_printf(work.arena, "%s%s%s", GAUGE, rows[i],
                                                              BAND));

        part[i] = plan->piece.loop.advice.part_now;
        over[i] = plan->piece.yarns[0].likely.high_m / plan->piece.yarns[0].length_m;
        fixture_end(&work);
    }
    CU_ASSERT_TRUE(part[1] > 1.2 * part[0]);
    CU_ASSERT_TRUE(over[1] - 1 > 1.2 * (over[0] - 1));
}

/* A weighed swatch beside marked lengths tells the slack worse than the usual figure, for the ball's
 * length is in it: so the usual figure stands, and a second way of measuring widens no range. */
static void test_no_wider_by_more(void)
{
    static const char marked[] = "marked = 45 stitches took 36 in\nmarked 2 = 45 stitches took 36 in\n";
    struct work work = fixture_work_with_tables();
    const struct plan_piece *one =
        &plan_of(&work, arena_printf(work.arena, "%s%s%s", GAUGE, marked, BAND))->piece;
    const struct plan_piece *both =
        &plan_of(&work, arena_printf(work.arena, "%sscale = 0.1 g\nweight = 26.6 g: 40 stitches, "
                                                 "44 rows\n%s%s",
                                     GAUGE, marked, BAND))
             ->piece;

    CU_ASSERT_EQUAL(both->loop.slack_origin, SLACK_TABLE);
    for (int i = 0; i < 2; i++)
        CU_ASSERT_TRUE(both->yarns[i].likely.high_m / both->yarns[i].likely.low_m <
                       one->yarns[i].likely.high_m / one->yarns[i].likely.low_m);
    fixture_end(&work);
}

/* By hand: two marked yards of 45 stitches say 20.32 mm, with 5.565 of strand 25.885 a stitch; the scale
 * says 47.88 m of 1760, 27.205. Of the 4.85 % between them the ball's length, 4 % nine in ten, takes
 * 5.91 parts of 7.79 (marks 1.50, what the scale may be out 0.38): 3.7 %. All that is counted in balls
 * and grams goes by it. */
static void test_balls_shorter_than_their_band(void)
{
    struct work work = fixture_work_with_tables();
    struct text out = text_create(work.arena);
    const struct words_style style = {.width = 80};
    const struct plan *plan = plan_of(
        &work, GAUGE "scale = 0.1 g\nweight = 26.6 g: 40 stitches, 44 rows\n"
                     "marked = 45 stitches took 36 in\nmarked 2 = 45 stitches took 36 in\n" BAND);
    double ratio = plan->piece.loop.ball_ratio;

    CU_ASSERT_DOUBLE_EQUAL(ratio, 1 - 0.037, 0.002);
    for (int i = 0; i < 2; i++) {
        const struct plan_yarn *yarn = &plan->piece.yarns[i];

        CU_ASSERT_DOUBLE_EQUAL(yarn->band_m, 45, 0);
        CU_ASSERT_DOUBLE_EQUAL(yarn->ball_m, 45 * ratio, 1e-9);
        CU_ASSERT_DOUBLE_EQUAL(yarn->grams, yarn->length_m / (45 * ratio) * 25, 1e-9);
        CU_ASSERT_DOUBLE_EQUAL(yarn->buy.left_m + yarn->buy.need_m,
                               (double)yarn->buy.balls * 45 * ratio, 1e-9);
        CU_ASSERT_DOUBLE_EQUAL(plan->weighings[plan->nweighings - 1].left_g[i],
                               (double)yarn->buy.balls * 25 - yarn->grams, 1e-9);
        check_balls(yarn, 0.95);
    }
    render_report(&work, plan, &style, &out);
    CU_ASSERT_PTR_NOT_NULL(strstr(out.bytes, "a ball holds 3.8"));
    fixture_end(&work);
}

/* At 5 by 6 1/2 to the inch 40 stitches take some 32 in: what one says of two or three rows. */
static void test_judgements(void)
{
    static const struct {
        const char *lines;
        enum diag_code code;
        bool planned;
    } cases[] = {
        {"unravelled = 40 stitches took 32 in\nunravelled 2 = 40 stitches took 32 3/4 in\n",
         DIAG_CODE_COUNT, true},
        {"unravelled = 40 stitches took 32 in\nunravelled 2 = 40 stitches took 34 1/4 in\n",
         DIAG_SWATCH_DIFFERS, true},
        {"unravelled = 40 stitches took 28 in\nunravelled 2 = 40 stitches took 36 in\n",
         DIAG_SWATCH_CONTRADICTS, false},
        {"unravelled = 40 stitches took 40 in\n", DIAG_LOOP_GAUGE, true},
        {"unravelled = 40 stitches took 55 in\n", DIAG_LOOP_UNSOLVED, false},
        {"unravelled = 40 stitches: ground 20 took 20 in, reed 20 took 20 in\n", DIAG_LOOP_UNSOLVED,
         false},
        {"weight = 0.2 g: 10 stitches, 10 rows\n", DIAG_LOOP_UNSOLVED, false},
    };

    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct work work = fixture_work_with_tables();
        const struct plan *plan =
            plan_of(&work, arena_printf(work.arena, "%s%s%s", GAUGE, cases[i].lines, BAND));
        int count, seen = 0, said = 0;
        const struct diag *diag = diagnostics_sorted(work.diagnostics, &count);

        for (int k = 0; k < count; k++) {
            seen += diag[k].code == cases[i].code;
            said += diag[k].code == DIAG_SWATCH_DIFFERS || diag[k].code == DIAG_LOOP_GAUGE ||
                    diag_code_severity(diag[k].code) == DIAG_ERROR;
        }
        CU_ASSERT_EQUAL(said, cases[i].code == DIAG_CODE_COUNT ? 0 : 1);
        CU_ASSERT_EQUAL(seen, said);
        CU_ASSERT_EQUAL(plan != NULL, cases[i].planned);
        fixture_end(&work);
    }
}

/* A yard of 45 stitches, 0.80 in each; 23.8 g at 45 m to 25 g are 0.958 in for stitch and strand: a
 * strand of 0.79 times what it passes, give or take some 0.2 by ball and tape. That tells no slack, and
 * is no slip. At 20 g the strand would be as good as none: that is one. */
static void test_slack_in_doubt(void)
{
    struct work work = fixture_work_with_tables();
    const struct plan *plan = plan_of(
        &work, GAUGE "scale = 0.1 g\nmarked = 45 stitches took 36 in\n"
                     "weight = 23.8 g: 40 stitches, 44 rows\n" BAND);

    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    CU_ASSERT_EQUAL(plan->piece.loop.slack_origin, SLACK_TABLE);
    CU_ASSERT_DOUBLE_EQUAL(plan->piece.loop.slack_ratio, 1.10, 1e-12);
    /* between 0.80 in and what the weight leaves for a stitch, 0.958 less 1.10 of 0.199 */
    CU_ASSERT_TRUE(plan->piece.loop.loop_mm < 0.80 * 25.4);
    CU_ASSERT_TRUE(plan->piece.loop.loop_mm > (0.958 - 1.10 * 0.199) * 25.4);
    CU_ASSERT_FALSE(diagnostics_fatal(work.diagnostics));
    plan = plan_of(&work, GAUGE "scale = 0.1 g\nmarked = 45 stitches took 36 in\n"
                                "weight = 20 g: 40 stitches, 44 rows\n" BAND);
    CU_ASSERT_PTR_NULL(plan);
    CU_ASSERT_TRUE(diagnostics_fatal(work.diagnostics));
    fixture_end(&work);
}

/* Cream takes 0.50 in to a stitch, slate 0.55, each measured twice; of berry nothing is known: it has the stitch of
 * all four together, between the two. */
static void test_yarn_never_measured(void)
{
    struct work work = fixture_work_with_tables();
    const struct plan *plan =
        plan_of(&work, GAUGE "unravelled = 40 stitches of cream took 20 in\nunravelled 2 = 40 stitches of cream took 20 in\n"
                             "unravelled 3 = 40 stitches of slate took 22 in\nunravelled 4 = 40 stitches of slate took 22 in\n"
                             "[band ripple]\nchart = ripple.chart\nrepeats = 7\n[plain leg]\nyarn = berry\nrounds = 10\n"
                             "[yarn cream]\nmark = .\n[yarn slate]\nmark = x\n[yarn berry]\nmark = o\n");
    const struct plan_loop *loop = &plan->piece.loop;

    CU_ASSERT_TRUE_FATAL(loop->by_yarn);
    CU_ASSERT_DOUBLE_EQUAL(loop->yarn[0].loop_mm, 0.50 * 25.4, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(loop->yarn[1].loop_mm, 0.55 * 25.4, 1e-9);
    CU_ASSERT_TRUE(loop->loop_mm > 0.51 * 25.4 && loop->loop_mm < 0.54 * 25.4);
    CU_ASSERT_DOUBLE_EQUAL(loop->yarn[2].loop_mm, loop->loop_mm, 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(loop->yarn[2].plain_loop_mm, loop->plain_loop_mm, 1e-12);
    CU_ASSERT_PTR_EQUAL(loop->yarn[2].fit, loop->fit);
    CU_ASSERT_PTR_NOT_EQUAL(loop->yarn[1].fit, loop->fit);
    fixture_end(&work);
}

CU_TestInfo tests_range[] = {
    {"all together, there and back", test_all_together},
    {"doubt makes the range wider", test_wider_by_doubt},
    {"a second way of measuring makes no range wider", test_no_wider_by_more},
    {"balls shorter than their band", test_balls_shorter_than_their_band},
    {"what is doubted, and what is refused", test_judgements},
    {"a slack that may be chance is not told", test_slack_in_doubt},
    {"from gauge alone, by hand", test_gauge_alone},
    {"balls that are enough, by hand", test_balls},
    {"very many balls", test_many_balls},
    {"the advice comes true", test_advice_comes_true},
    {"the advice for the plain swatch comes true", test_advice_for_the_plain_swatch},
    {"each yarn its own stitch", test_each_its_own_stitch},
    {"a yarn never measured has the stitch of all", test_yarn_never_measured},
    {"a yarn sewn on has the stitch it covers", test_sewn_as_what_it_covers},
    {"a ball weighed, by hand", test_ball_weighed},
    {"a swatch of a thin yarn and a thick one", test_swatch_of_two_weights},
    {"a scale counts as finely as was written", test_scale_as_written},
    {"a marked yard, and the plain fabric its own", test_marked_and_plain},
    CU_TEST_INFO_NULL,
};
