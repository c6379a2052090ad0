/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What should be left after each step: against a sock top worked out by hand, and against the
 * yarn of the whole for every example.
 */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/arena.h"
#include "run.h"
#include "fixture_project.h"
#include "plan/plan.h"
#include "read/chart/chart.h"

extern CU_TestInfo tests_weigh_in[];

static const struct plan *plan_project(struct work *work, const struct project *project)
{
    const struct chart *charts[PROJECT_BANDS_MAX] = {NULL};

    for (int i = 0; i < project->nparts; i++)
        if (project->parts[i].kind == PART_BAND)
            charts[i] = chart_read_band(work, project, &project->parts[i]);
    if (diagnostics_fatal(work->diagnostics))
        fprintf(stderr, "%s", fixture_printed(work, false));
    CU_ASSERT_FALSE_FATAL(diagnostics_fatal(work->diagnostics));
    return plan_build(work, project, charts);
}

static const struct plan *plan_of(struct work *work, const char *text)
{
    return plan_project(work, project_read_source(work, source_from_text(
                                                            work, "tests/projects/x.ini", text)));
}

/* The sums of the steps are the metres of the yarn, once for each piece. */
static void test_sums(void)
{
    static const char *const examples[] = {
        "examples/barley-socks/barley-socks.ini",   "examples/moth-cushion/moth-cushion.ini",
        "examples/pinewood-yoke/pinewood-yoke.ini", "examples/skep-mittens/skep-mittens.ini",
        "examples/tile-blanket/tile-blanket.ini",   "examples/toadstool-hat/toadstool-hat.ini",
        "tests/projects/ripple.ini",                "tests/projects/reeds.ini"};

    for (size_t e = 0; e < sizeof examples / sizeof *examples; e++) {
        struct work work = fixture_work_with_tables();
        const struct plan *plan = plan_project(&work, project_read(&work, examples[e]));
        const struct plan_piece *piece = &plan->piece;
        const struct plan_weighing *last = &plan->weighings[plan->nweighings - 1];

        for (int i = 0; i < piece->nyarns; i++) {
            const struct plan_yarn *yarn = &piece->yarns[i];
            double metres = 0;

            for (int step = 0; step <= piece->nsteps; step++) {
                CU_ASSERT_TRUE(piece->step_m[step * piece->nyarns + i] >= 0);
                metres += piece->step_m[step * piece->nyarns + i];
            }
            CU_ASSERT_DOUBLE_EQUAL(metres * plan->make + yarn->use_m[USE_SWATCH], yarn->length_m,
                                   1e-9 * yarn->length_m);
            if (yarn->has_ball)
                CU_ASSERT_DOUBLE_EQUAL(last->left_g[i],
                                       (double)yarn->buy.balls * yarn->ball_g - yarn->grams, 1e-6);
        }
        arena_destroy(work.arena);
    }
}

#define SOCK(SLATE) SOCK_MEASURED("marked = 75 stitches took 36 in", SLATE)
#define SOCK_MEASURED(HOW, SLATE)                                                                        \
    "[swatch]\nworked = round\nwashed = yes\nover = 4 in\nstitches = 32, 32, 32\n"                 \
    "rows = 38, 38, 38\n[swatch plain]\nworked = round\nwashed = yes\nover = 4 in\n"               \
    "stitches = 30, 30, 30\nrows = 38, 38, 38\n" HOW "\n"                                       \
    "[cast-on]\nyarn = cream\nrib = knit 2 purl 2, 12 rounds\nrib stitches = 72\n"                 \
    "[band ripple]\nchart = ripple.chart\nrepeats = 7\nplain before = 1 round cream\n"             \
    "plain after = 1 round cream\n[plain leg]\nyarn = cream\nrounds = 1\n"                        \
    "stitches on needle = 72\n[plain foot]\nyarn = cream\nstitches = 2000\n"                       \
    "[yarn cream]\nmark = .\nball = 50 g, 230 yd\n[yarn slate]\nmark = x\nball = " SLATE "\n"      \
    "[edges]\ntail = 0 in\nbind-off = none\n"

/* By hand, an inch of this yarn being 50 / 230 / 36 g and no tails counted: cast-on 72 at 7 1/2 to
 * the inch, 3.5 x 9.6 + 6 + 72 x 0.48 = 74.16 in, 49.55 g left; rib 864 stitches 414.72 in, 47.05;
 * increases in one round of 84, 40.32 in; band 707 x 0.48 + 385 / 8 x 1.10 + 7 / 16 = 392.74 in,
 * 44.43; decreases 72 x 0.48 = 34.56 in, 44.23. Slate 469 x 0.48 + 539 / 8 x 1.10 + 21 / 16 =
 * 300.54 in, 48.19 g. The catches are the plan's own: half a stitch width each. */
static void test_sock(void)
{
    static const struct {
        enum step_kind kind;
        double cream_in, slate_in;
    } steps[] = {{STEP_CAST_ON, 74.16, 0},
                 {STEP_RIB, 414.72, 0},
                 {STEP_SHAPE, 40.32, 0},
                 {STEP_BAND, 392.2975, 299.2325},
                 {STEP_SHAPE, 34.56, 0}};
    struct work work = fixture_work_with_tables();
    const struct plan *plan = plan_of(&work, SOCK("50 g, 230 yd"));
    const struct plan_piece *piece = &plan->piece;
    const double gram_per_in = 50.0 / 230 / 36;
    double cream = 50, slate = 50;

    CU_ASSERT_DOUBLE_EQUAL(plan->weighings[0].left_g[0], 50, 1e-9);
    for (int i = 0; i < 5; i++) {
        const struct plan_weighing *weighing = &plan->weighings[i + 1];
        const struct plan_colour *colours = piece->bands[0].colours;

        CU_ASSERT_EQUAL(weighing->step, i);
        CU_ASSERT_EQUAL(piece->steps[i].kind, steps[i].kind);
        cream -= steps[i].cream_in * gram_per_in;
        slate -= steps[i].slate_in * gram_per_in;
        if (steps[i].kind == STEP_BAND) {
            cream -= (double)colours[0].piece_catches / 16 * gram_per_in;
            slate -= (double)colours[1].piece_catches / 16 * gram_per_in;
        }
        CU_ASSERT_DOUBLE_EQUAL(weighing->left_g[0], cream, 2e-3);
        CU_ASSERT_DOUBLE_EQUAL(weighing->left_g[1], slate, 2e-3);
    }
    CU_ASSERT_DOUBLE_EQUAL(cream, 44.2, 0.05);
    CU_ASSERT_DOUBLE_EQUAL(slate, 48.2, 0.05);
    arena_destroy(work.arena);
}

/* What must be left is weighed. Where a swatch was weighed, how long a ball is cancels, and grams are
 * surer than metres; where yarn was taped, the ball's length is in the grams too: they are less so. */
static void test_grams_are_weighed(void)
{
    struct work work = fixture_work_with_tables();
    const struct plan *taped = plan_of(&work, SOCK("50 g, 230 yd"));
    const struct plan *weighed = plan_of(
        &work, SOCK_MEASURED("scale = 0.01 g\nweight = 10.43 g: 60 stitches, 60 rows", "50 g, 230 yd"));
    const struct plan *plans[] = {taped, weighed};

    for (int i = 0; i < 2; i++) {
        const struct plan_weigh_by *by = &plans[i]->weigh_by[0];
        const struct plan_yarn *yarn = &plans[i]->piece.yarns[by->yarn];
        double grams = by->need_g / by->rest_g, metres = yarn->likely.high_m / yarn->length_m;

        CU_ASSERT_TRUE(plans[i] == taped ? grams > metres + 0.005 : grams < metres - 0.005);
    }
    arena_destroy(work.arena);
}

/* Cream ends in the foot, 960 in of some 1920: so before it. Slate, its ball a heavy one so that it
 * is told, ends in the band: of 42.7475 in a repeat round 14 holds none, round 13 3 stitches and 9
 * floats, 1.44 + 1.2375 in, round 12 5 and 7, 2.40 + 0.9625 in: 6.04 in, more than a tenth. */
static void test_weigh_by(void)
{
    struct work work = fixture_work_with_tables();
    const struct plan *plan = plan_of(&work, SOCK("1000 g, 230 yd"));
    const struct plan_yarn *yarns = plan->piece.yarns;
    const struct plan_weigh_by *by = plan->weigh_by;

    CU_ASSERT_EQUAL_FATAL(plan->nweigh_by, 2);
    CU_ASSERT_EQUAL(by[0].step, 6);
    CU_ASSERT_EQUAL(by[0].row, 0);
    CU_ASSERT_DOUBLE_EQUAL(by[0].rest_g, 960 * 50.0 / 230 / 36, 1e-3);
    CU_ASSERT_EQUAL(by[1].step, 3);
    CU_ASSERT_EQUAL(by[1].row, 12);
    CU_ASSERT_EQUAL(by[1].time, 0);
    CU_ASSERT_DOUBLE_EQUAL(by[1].rest_g, yarns[1].grams * 6.04 / 42.7475, 1e-3);
    for (int i = 0; i < 2; i++)
        CU_ASSERT_DOUBLE_EQUAL(by[i].need_g / by[i].rest_g,
                               yarns[i].likely.buy_high_m / yarns[i].length_m, 1e-9);
    CU_ASSERT_EQUAL(plan_of(&work, SOCK("50 g, 230 yd"))->nweigh_by, 1); /* under a gram */
    arena_destroy(work.arena);
}

/* Berry is sewn on when all is knitted: a tenth of it is still to come before that step as a whole, of no row. All of
 * it is to come, 8 stitches of 0.5 in, a tenth more of it, and 12 in of tails, as the duplicate tables have it. */
static void test_weigh_by_what_is_sewn(void)
{
    struct work work = fixture_work_with_tables();
    const struct plan *plan =
        plan_of(&work, "[swatch]\nworked = round\nwashed = yes\nover = 4 in\nstitches = 32\nrows = 40\n"
                       "unravelled = 100 stitches took 50 in\n[measure]\naround = 6 in\n[band tall]\n"
                       "chart = choices-tall.chart\nrepeats = 1\n[yarn cream]\nmark = .\n[yarn slate]\nmark = x\n"
                       "[yarn berry]\nmark = o\nduplicate over = cream\nball = 1000 g, 50 m\n");
    const struct plan_weigh_by *by = plan->weigh_by;

    CU_ASSERT_EQUAL_FATAL(plan->nweigh_by, 1);
    CU_ASSERT_EQUAL(by->yarn, 2);
    CU_ASSERT_EQUAL(by->step, plan->piece.nsteps);
    CU_ASSERT_EQUAL(by->piece, 1);
    CU_ASSERT_EQUAL(by->row, 0);
    CU_ASSERT_EQUAL(by->time, 0);
    CU_ASSERT_DOUBLE_EQUAL(by->rest_g, (8 * 0.55 + 12) * 0.0254 * 20, 1e-2);
    arena_destroy(work.arena);
}

CU_TestInfo tests_weigh_in[] = {
    {"the steps' sums are the yarn of the whole", test_sums},
    {"a sock top by hand", test_sock},
    {"by when so much must be left", test_weigh_by},
    {"and of what is sewn on", test_weigh_by_what_is_sewn},
    {"grams to be left are surer where a swatch was weighed", test_grams_are_weighed},
    CU_TEST_INFO_NULL};
