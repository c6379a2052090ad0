/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Yarn in hand is used first. Sums by hand.
 */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "run.h"
#include "fixture_project.h"
#include "model/yarn/yarn.h"
#include "plan/plan.h"
#include "read/chart/chart.h"
#include "render/render.h"

extern CU_TestInfo tests_have[];

/* 336.3 m and 10 % are 369.93 m (trade notes' worked sum, in metres). 250 m in hand leave 119.93 m
 * and a join of 0.3 m: one ball of 131 m, 120.23 / 131 = 0.91779 of it used. 150 m in hand leave
 * 219.93 m: two balls, with two joins 220.53 m, 41.47 m left. */
static void test_beside(void)
{
    struct ball_count count;

    CU_ASSERT_EQUAL(yarn_balls_beside(336.3, 0.1, 250, 131, 0.3, &count), 0);
    CU_ASSERT_EQUAL(count.balls, 1);
    CU_ASSERT_DOUBLE_EQUAL(count.need_m, 120.23, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(count.last_used, 0.9177863, 1e-6);
    CU_ASSERT_EQUAL(yarn_balls_beside(336.3, 0.1, 150, 131, 0.3, &count), 0);
    CU_ASSERT_EQUAL(count.balls, 2);
    CU_ASSERT_DOUBLE_EQUAL(count.need_m, 220.53, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(count.left_m, 41.47, 1e-9);
}

static void test_beside_edges(void)
{
    struct ball_count count, plain;

    CU_ASSERT_EQUAL(yarn_balls_beside(336.3, 0.1, 369.94, 131, 0.3, &count), 0);
    CU_ASSERT_EQUAL(count.balls, 0);
    CU_ASSERT_EQUAL(yarn_balls_beside(336.3, 0.1, 369.92, 131, 0.3, &count), 0);
    CU_ASSERT_EQUAL(count.balls, 1); /* a centimetre short is a ball */
    CU_ASSERT_EQUAL(yarn_balls_beside(336.3, 0.1, 0, 131, 0.3, &count), 0);
    CU_ASSERT_EQUAL(yarn_balls(336.3, 0.1, 131, 0.3, &plain), 0);
    CU_ASSERT_EQUAL(count.balls, plain.balls);
    CU_ASSERT_DOUBLE_EQUAL(count.need_m, plain.need_m, 1e-12);
}

static const struct plan *plan_with(struct work *work, const char *ground, const char *more)
{
    const char *text = arena_printf(
        work->arena,
        "[swatch]\nworked = round\nwashed = yes\nover = 4 in\nstitches = 20, 20 1/4, 20\n"
        "rows = 26, 26 1/4, 26\n[band reeds]\nchart = reeds.chart\nrepeats = 26\nupwards = 4\n"
        "[yarn ground]\nmark = .\n%s[yarn reed]\nmark = x\nball = 25 g, 45 m\n%s",
        ground, more);
    const struct source *source = source_from_text(work, "tests/projects/range.ini", text);
    const struct project *project = project_read_source(work, source);
    const struct chart *charts[1] = {chart_read_band(work, project, &project->parts[0])};

    CU_ASSERT_FALSE_FATAL(diagnostics_fatal(work->diagnostics));
    return plan_build(work, project, charts);
}

static const struct plan *plan_of(struct work *work, const char *have)
{
    return plan_with(work, arena_printf(work->arena, "ball = 25 g, 45 m\n%s", have), "");
}

/* 37 g at 45 m to 25 g are 66.6 m; the need with margin less that, and as many joins as balls. */
static void test_plan(void)
{
    struct work work = fixture_work_with_tables();
    const struct plan_yarn *without = plan_of(&work, "")->piece.yarns;
    const struct plan_yarn *with = plan_of(&work, "have = 37 g\n")->piece.yarns;
    double join_m = 2 * 6 * 0.0254;

    CU_ASSERT_DOUBLE_EQUAL(with->have_m, 66.6, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(with->length_m, without->length_m, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(with->buy.need_m,
                           without->length_m * 1.2 - 66.6 + (double)with->buy.balls * join_m, 1e-6);
    CU_ASSERT_DOUBLE_EQUAL(with->need_m, with->buy.need_m, 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(with->have_g, 37, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(with->need_g, with->need_m / 45 * 25, 1e-9);
    CU_ASSERT_TRUE(with->buy.balls == without->buy.balls - 1 ||
                   with->buy.balls == without->buy.balls - 2);
    /* so many in hand and so many bought: at 95 % sure, as many metres as without, within a ball */
    CU_ASSERT_TRUE(with->likely.sure_balls < without->likely.sure_balls);
    CU_ASSERT_TRUE(with->likely.sure_chance >= 0.95);
    arena_destroy(work.arena);
}

static void test_enough(void)
{
    struct work work = fixture_work_with_tables();
    struct text out = text_create(work.arena);
    struct words_style style = {.width = 80};
    const struct plan *plan = plan_of(&work, "have = 900 m\n");
    const struct plan_yarn *yarn = plan->piece.yarns;

    CU_ASSERT_TRUE(yarn->have_enough);
    CU_ASSERT_EQUAL(yarn->buy.balls, 0);
    CU_ASSERT_EQUAL(yarn->likely.sure_balls, 0);
    CU_ASSERT_TRUE(yarn->length_m * 1.2 < 900);
    CU_ASSERT_FALSE(plan->piece.yarns[1].have_enough);
    render_report(&work, plan, &style, &out);
    CU_ASSERT_PTR_NOT_NULL(strstr(out.bytes, "nothing to buy"));
    CU_ASSERT_PTR_NOT_NULL(strstr(out.bytes, "practically always enough."));
    arena_destroy(work.arena);
}

/* By hand: a join of two ends of 100 in is 5.08 m, a ball of 5 m no help. What is in hand is enough
 * with the margin, or it is not: no number of balls is found, and the search for one ends. */
static void test_ball_shorter_than_join(void)
{
    struct work work = fixture_work_with_tables();
    const char *edges = "[edges]\ntail = 100 in\n";
    double need_m = 1.2 * plan_with(&work, "ball = 1 g, 5 m\n", edges)->piece.yarns[0].length_m;

    for (int more = -1; more <= 1; more += 2) {
        const char *ground =
            arena_printf(work.arena, "ball = 1 g, 5 m\nhave = %.2f m\n", need_m + more);
        const struct plan *plan = plan_with(&work, ground, edges);
        const struct plan_yarn *yarn = plan->piece.yarns;

        CU_ASSERT_EQUAL(yarn->have_enough, more > 0);
        CU_ASSERT_EQUAL(yarn->buy.balls, 0);
        CU_ASSERT_EQUAL(yarn->beyond_count, more < 0);
        CU_ASSERT_DOUBLE_EQUAL(yarn->need_m, more < 0 ? 1 : 0, 0.01);
        CU_ASSERT_EQUAL(yarn->likely.nenough, 0);
        CU_ASSERT_TRUE(yarn->likely.high_m > yarn->length_m);
    }
    arena_destroy(work.arena);
}

/* A metre short of what 99 in 100 need, a ball of 45 m is bought: a close call, and what would save it
 * is told. A metre short of the margin, what is in hand is sure enough: that is said instead. Where
 * the ball is all there is of the yarn there is nothing to save. */
static void test_hardly_touched(void)
{
    struct work work = fixture_work_with_tables();
    const struct plan_yarn *free = plan_of(&work, "")->piece.yarns;
    double sure_m = likely_quantile_m(free->length_m, free->likely.buy_log_sd, 0.99);
    double margin_m = fmin(1.2 * free->length_m, sure_m) - 1;
    const struct plan *plan = plan_of(
        &work, arena_printf(work.arena, "have = %.2f m\n[buy]\nmargin = 0 %%\nconfidence = 99 %%\n",
                            sure_m - 1));
    const struct plan *near = plan_of(&work, arena_printf(work.arena, "have = %.2f m\n", margin_m));
    struct text out = text_create(work.arena);
    struct words_style style = {.width = 80};
    const struct plan *alone = plan_with(&work, "ball = 50 g, 19000 m\n", "");
    const struct plan_yarn *yarn = plan->piece.yarns;

    CU_ASSERT_EQUAL(yarn->buy.balls, 1);
    CU_ASSERT_EQUAL(yarn->close_call, CALL_HARDLY_TOUCHED);
    CU_ASSERT_TRUE_FATAL(plan->nchanges > 0);
    CU_ASSERT_EQUAL(plan->changes[0].yarn, 0);
    CU_ASSERT_EQUAL(plan->changes[0].buy.balls, 0);
    render_report(&work, plan, &style, &out);
    CU_ASSERT_PTR_NOT_NULL(strstr(out.bytes, "; then nothing to buy."));
    CU_ASSERT_TRUE(near->piece.yarns[0].likely.sure_balls < near->piece.yarns[0].buy.balls);
    CU_ASSERT_EQUAL(near->nchanges, 0);
    render_report(&work, near, &style, &out);
    CU_ASSERT_PTR_NOT_NULL(strstr(out.bytes, "what you have would do;"));
    CU_ASSERT_EQUAL(alone->piece.yarns[0].buy.balls, 1);
    CU_ASSERT_EQUAL(alone->piece.yarns[0].close_call, CALL_NONE);
    arena_destroy(work.arena);
}

static void test_faults(void)
{
    static const struct spoilt cases[] = {
        {"ball = 50 g, 210 m\n", "ball = 50 g, 210 m\nhave = -37 g\n", DIAG_VALUE_RANGE, 34, 8, "0"},
        {"ball = 50 g, 210 m\n", "have = 37 g\n", DIAG_KEY_MISSING, 33, 8, "ball = 50 g, 210 m"},
        {"ball = 50 g, 210 m\n", "ball = 50 g, 210 m\nhave = 37\n", DIAG_VALUE_UNIT, 34, 8, "have = 37 g"},
        {"ball = 50 g, 210 m\n", "ball = 50 g, 210 m\nhave = 3 balls\n", DIAG_VALUE_UNIT, 34, 8, ""},
    };

    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct work work = fixture_work_with_tables();

        fixture_read(&work, fixture_spoilt(&work, cases[i].from, cases[i].to));
        fixture_assert_only(&work, &cases[i]);
        arena_destroy(work.arena);
    }
}

/* Doubted from more than ten balls and ten times the need on, and planned with all the same. Ground
 * needs some 240 m of balls of 45: 2,300 m are under ten times, 3,000 m over. */
static void test_doubted(void)
{
    static const struct {
        const char *have;
        int doubted;
    } cases[] = {{"have = 2300 m\n", 0}, {"have = 3000 m\n", 1}, {"have = 20000 g\n", 1}};

    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct work work = fixture_work_with_tables();
        const struct plan *plan = plan_of(&work, cases[i].have);
        int count, doubted = 0;
        const struct diag *diag = diagnostics_sorted(work.diagnostics, &count);

        for (int k = 0; k < count; k++)
            doubted += diag[k].code == DIAG_HAVE_UNUSUAL;
        CU_ASSERT_EQUAL(doubted, cases[i].doubted);
        CU_ASSERT_TRUE(plan->piece.yarns[0].have_enough);
        arena_destroy(work.arena);
    }
}

/* A whole ball in hand for a few stitches is no slip: many times the need, but one ball. */
static void test_ball_for_a_spot(void)
{
    struct work work = fixture_work_with_tables();
    const char *text = "[swatch]\nworked = round\nwashed = yes\nover = 4 in\nstitches = 20, 20\n"
                       "rows = 26, 26\n[band reeds]\nchart = reeds.chart\nrepeats = 1\n"
                       "[yarn ground]\nmark = .\n[yarn reed]\nmark = x\nball = 50 g, 150 m\n"
                       "have = 50 g\n";
    const struct source *source = source_from_text(&work, "tests/projects/range.ini", text);
    const struct project *project = project_read_source(&work, source);
    const struct chart *charts[1] = {chart_read_band(&work, project, &project->parts[0])};
    const struct plan *plan = plan_build(&work, project, charts);
    int count;

    CU_ASSERT_TRUE(plan->piece.yarns[1].have_m > 20 * plan->piece.yarns[1].length_m);
    diagnostics_sorted(work.diagnostics, &count);
    for (int k = 0; k < count; k++)
        CU_ASSERT_NOT_EQUAL(fixture_diag(&work, k).code, DIAG_HAVE_UNUSUAL);
    arena_destroy(work.arena);
}

CU_TestInfo tests_have[] = {
    {"what is in hand goes first, its join counted", test_beside},
    {"just enough, just short, and none in hand", test_beside_edges},
    {"grams by the ball band, the balls and their chances", test_plan},
    {"enough in hand: nothing to buy", test_enough},
    {"a ball shorter than a join", test_ball_shorter_than_join},
    {"a ball bought and hardly touched beside what is in hand", test_hardly_touched},
    {"faults in what is in hand", test_faults},
    {"so much in hand that it is doubted", test_doubted},
    {"a ball for a few stitches is no slip", test_ball_for_a_spot},
    CU_TEST_INFO_NULL};
