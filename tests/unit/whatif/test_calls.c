/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Close calls and what would put them right: each change worked out by hand, or planned again with
 * the change made.
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
#include "render/render.h"

extern CU_TestInfo tests_calls[];

static const struct plan *plan_of(struct work *work, const char *text)
{
    const struct source *source = source_from_text(work, "tests/projects/x.ini", text);
    const struct project *project = project_read_source(work, source);
    const struct chart *charts[PROJECT_BANDS_MAX] = {NULL};

    for (int i = 0; i < project->nparts; i++)
        if (project->parts[i].kind == PART_BAND)
            charts[i] = chart_read_band(work, project, &project->parts[i]);
    if (diagnostics_fatal(work->diagnostics))
        fprintf(stderr, "%s", fixture_printed(work, false));
    CU_ASSERT_FALSE_FATAL(diagnostics_fatal(work->diagnostics));
    return plan_build(work, project, charts);
}

/* A sock top with a leg of `rounds` and a ball of `metres`; a stitch takes 0.48 in. */
static const struct plan *sock(struct work *work, int rounds, int upwards, double metres)
{
    return plan_of(
        work,
        arena_printf(
            work->arena,
            "[swatch]\nworked = round\nwashed = yes\nover = 4 in\nstitches = 32, 32, 32\n"
            "rows = 38, 38, 38\nmarked = 75 stitches took 36 in\n"
            "[cast-on]\nyarn = cream\nrib = knit 2 purl 2, 12 rounds\nrib stitches = 72\n"
            "[band ripple]\nchart = ripple.chart\nrepeats = 7\nupwards = %d\n"
            "plain before = 1 round cream\nplain after = 1 round cream\n"
            "[plain leg]\nyarn = cream\nrounds = %d\nstitches on needle = 84\n"
            "[yarn cream]\nmark = .\nball = 50 g, %.4f m\n[yarn slate]\nmark = x\n"
            "ball = 50 g, 230 yd\n[edges]\nbind-off = none\n",
            upwards, rounds, metres));
}

static const struct plan_change *find(const struct plan *plan, enum change_kind kind)
{
    for (int i = 0; i < plan->nchanges; i++)
        if (plan->changes[i].kind == kind)
            return &plan->changes[i];
    return NULL;
}

/* Just over a ball: 3 m of cream more than it holds. A round of 84 takes 84 x 0.48 in x 1.1 =
 * 1.127 m with the margin: 3 rounds are enough, 2 are not, as the plan of such a leg says too. */
static void test_rounds(void)
{
    struct work work = fixture_work_with_tables();
    double need_m = sock(&work, 40, 1, 1000)->piece.yarns[0].length_m * 1.1;
    const struct plan *plan = sock(&work, 40, 1, need_m - 3);
    const struct plan_change *change = find(plan, CHANGE_ROUNDS);

    CU_ASSERT_EQUAL(plan->piece.yarns[0].close_call, CALL_HARDLY_TOUCHED);
    CU_ASSERT_EQUAL(plan->piece.yarns[0].buy.balls, 2);
    CU_ASSERT_PTR_NOT_NULL_FATAL(change);
    CU_ASSERT_EQUAL(change->rounds, 3);
    CU_ASSERT_EQUAL(change->buy.balls, 1);
    CU_ASSERT_DOUBLE_EQUAL(change->saved_m, 3 * 84 * 0.48 * 0.0254, 1e-6);
    CU_ASSERT_EQUAL(sock(&work, 37, 1, need_m - 3)->piece.yarns[0].buy.balls, 1);
    CU_ASSERT_EQUAL(sock(&work, 38, 1, need_m - 3)->piece.yarns[0].buy.balls, 2);
    arena_destroy(work.arena);
}

/* 12 m over: no quarter of the leg (10 rounds, 11.3 m) does; the cast-on and rib, 74.2 in and 864
 * stitches, 12.4 m and 13.7 with the margin, do in slate. */
static void test_edge(void)
{
    struct work work = fixture_work_with_tables();
    const struct plan *whole = sock(&work, 40, 20, 1000);
    const struct plan_yarn *cream = whole->piece.yarns;
    const struct plan *plan = sock(&work, 40, 20, cream->length_m * 1.1 - 12);
    const struct plan_change *change = find(plan, CHANGE_CAST_ON);

    CU_ASSERT_PTR_NULL(find(plan, CHANGE_ROUNDS));
    CU_ASSERT_PTR_NOT_NULL_FATAL(change);
    CU_ASSERT_EQUAL(change->other, 1);
    CU_ASSERT_DOUBLE_EQUAL(change->saved_m, (3.5 * 9 + 6 + 72 * 0.48 + 864 * 0.48) * 0.0254, 1e-6);
    CU_ASSERT_EQUAL(change->buy.balls, 1);
    arena_destroy(work.arena);
}

/* A band ten times upwards: once less saves a tenth of its yarn, and the plan made so agrees. */
static void test_upwards(void)
{
    struct work work = fixture_work_with_tables();
    const struct plan *whole = sock(&work, 8, 10, 1000);
    double ball_m = whole->piece.yarns[0].length_m * 1.03; /* too little to be sure of it */
    const struct plan_change *change = find(sock(&work, 8, 10, ball_m), CHANGE_UPWARDS);
    const struct plan *less = sock(&work, 8, 9, ball_m);

    CU_ASSERT_PTR_NOT_NULL_FATAL(change);
    CU_ASSERT_EQUAL(change->buy.balls, less->piece.yarns[0].buy.balls);
    CU_ASSERT_DOUBLE_EQUAL(change->saved_m,
                           whole->piece.yarns[0].length_m - less->piece.yarns[0].length_m, 0.05);
    arena_destroy(work.arena);
}

/* 95 % of the ball used: 3 % of it are to be saved, in rounds of 84 with the margin. */
static void test_nearly_used(void)
{
    struct work work = fixture_work_with_tables();
    double need_m = sock(&work, 40, 1, 1000)->piece.yarns[0].length_m * 1.1;
    const struct plan *plan = sock(&work, 40, 1, need_m / 0.95);
    const struct plan_change *change = find(plan, CHANGE_ROUNDS);
    double round_m = 84 * 0.48 * 0.0254 * 1.1;

    CU_ASSERT_EQUAL(plan->piece.yarns[0].close_call, CALL_NEARLY_USED);
    CU_ASSERT_PTR_NOT_NULL_FATAL(change);
    CU_ASSERT_EQUAL(change->rounds, (int64_t)ceil(need_m / 0.95 * 0.03 / round_m));
    CU_ASSERT_EQUAL(change->buy.balls, 1);
    CU_ASSERT_TRUE(change->buy.last_used <= 0.92);
    arena_destroy(work.arena);
}

/* A sock top of 7 or 6 repeats whose rib goes with it: no other ball is near its end. */
static const struct plan *top(struct work *work, int repeats, double metres, const char *more)
{
    return plan_of(
        work,
        arena_printf(
            work->arena,
            "[swatch]\nworked = round\nwashed = yes\nover = 4 in\nstitches = 32, 32, 32\n"
            "rows = 38, 38, 38\nmarked = 75 stitches took 36 in\n"
            "[cast-on]\nyarn = cream\nrib = knit 2 purl 2, 12 rounds\n"
            "[band ripple]\nchart = ripple.chart\nrepeats = %d\n"
            "[yarn cream]\nmark = .\nball = 50 g, %.4f m\n[yarn slate]\nmark = x\n"
            "ball = 50 g, 230 yd\n[edges]\nbind-off = none\n[buy]\n%s\n",
            repeats, metres, more));
}

/* One repeat less, against the plan of the same top written with it: yarn to a tenth of a
 * millimetre, stitches, width 72 / 8 in. */
static void test_repeat(void)
{
    struct work work = fixture_work_with_tables();
    double need_m = top(&work, 7, 1000, "margin = 10 %")->piece.yarns[0].length_m * 1.1;
    const struct plan *plan = top(&work, 7, need_m - 1, "margin = 10 %");
    const struct plan *less = top(&work, 6, need_m - 1, "margin = 10 %");
    const struct plan_change *change = find(plan, CHANGE_REPEATS);

    CU_ASSERT_EQUAL(plan->piece.yarns[0].close_call, CALL_HARDLY_TOUCHED);
    CU_ASSERT_PTR_NOT_NULL_FATAL(change);
    CU_ASSERT_DOUBLE_EQUAL(change->saved_m,
                           plan->piece.yarns[0].length_m - less->piece.yarns[0].length_m, 1e-4);
    CU_ASSERT_EQUAL(change->buy.balls, less->piece.yarns[0].buy.balls);
    CU_ASSERT_EQUAL(change->stitches, 72);
    CU_ASSERT_DOUBLE_EQUAL(change->finished_in, 9.0, 1e-9);
    CU_ASSERT_PTR_NULL(find(top(&work, 1, need_m - 1, "margin = 10 %"), CHANGE_REPEATS));
    arena_destroy(work.arena);
}

/* A swatch that is kept and counted: ripped it saves all of what it took. */
static void test_swatch(void)
{
    struct work work = fixture_work_with_tables();
    const struct plan *kept = top(&work, 7, 1000, "margin = 10 %\nswatch = keep");
    double ball_m = kept->piece.yarns[0].length_m * 1.03;
    const struct plan *plan = top(&work, 7, ball_m, "margin = 10 %\nswatch = keep");
    const struct plan_change *change = find(plan, CHANGE_SWATCH);

    CU_ASSERT_PTR_NOT_NULL_FATAL(change);
    CU_ASSERT_DOUBLE_EQUAL(change->saved_m, plan->piece.yarns[0].swatch_m, 1e-9);
    CU_ASSERT_EQUAL(change->buy.balls, 1);
    CU_ASSERT_PTR_NULL(find(top(&work, 7, ball_m, "margin = 10 %"), CHANGE_SWATCH));
    arena_destroy(work.arena);
}

static bool report_says(struct work *work, const struct plan *plan, const char *words);

/* A ball and a half, no close call; without the swatch, which takes more than the top, less than one. The
 * balls of the same top with the swatch ripped are counted from its own length. */
static void test_swatch_ball(void)
{
    struct work work = fixture_work_with_tables();
    double kept_m = top(&work, 7, 1000, "margin = 10 %\nswatch = keep")->piece.yarns[0].length_m;
    double ball_m = kept_m * 1.1 / 1.5;
    const struct plan *kept = top(&work, 7, ball_m, "margin = 10 %\nswatch = keep");
    const struct plan *ripped = top(&work, 7, ball_m, "margin = 10 %");
    struct ball_count with, without;

    CU_ASSERT_EQUAL_FATAL(kept->piece.yarns[0].close_call, CALL_NONE);
    CU_ASSERT_EQUAL(yarn_balls(kept_m, 0.1, ball_m, 12 * 0.0254, &with), 0);
    CU_ASSERT_EQUAL(yarn_balls(ripped->piece.yarns[0].length_m, 0.1, ball_m, 12 * 0.0254, &without), 0);
    CU_ASSERT_EQUAL(with.balls, 2);
    CU_ASSERT_EQUAL(kept->piece.yarns[0].swatch_balls, with.balls - without.balls);
    CU_ASSERT_EQUAL(kept->piece.yarns[1].swatch_balls, 0); /* one ball either way */
    CU_ASSERT_EQUAL(ripped->piece.yarns[0].swatch_balls, 0);
    CU_ASSERT_TRUE(report_says(&work, kept, "Ripped and knitted up, it would save 1 ball of cream.\n"));
    CU_ASSERT_FALSE(report_says(&work, kept, "would save 1 ball of slate"));
    CU_ASSERT_FALSE(report_says(&work, ripped, "Ripped and knitted up"));
    arena_destroy(work.arena);
}

static bool report_says(struct work *work, const struct plan *plan, const char *words)
{
    struct text out = text_create(work->arena);
    struct words_style style = {.width = 80};

    render_report(work, plan, &style, &out);
    return strstr(out.bytes, words) != NULL;
}

/* One answer: with 10 % to spare 95 % of the ball is used, and it is as good as sure; without any to
 * spare 99 % is, which is not: another ball is bought, and it is said why; three balls at 10 % to
 * spare where two are sure, and it is said that they are. */
static void test_words(void)
{
    struct work work = fixture_work_with_tables();
    double spare_m = top(&work, 7, 1000, "margin = 10 %")->piece.yarns[0].length_m * 1.1 / 0.95;
    double bare_m = top(&work, 7, 1000, "margin = 0 %")->piece.yarns[0].length_m / 0.99;
    const struct plan *spare = top(&work, 7, spare_m, "margin = 10 %");
    const struct plan *bare = top(&work, 7, bare_m, "margin = 0 %");
    const struct plan *over = top(&work, 7, spare_m * 0.95 / 2.02, "margin = 10 %");

    CU_ASSERT_TRUE(spare->piece.yarns[0].likely.margin_chance > 0.95);
    CU_ASSERT_EQUAL(spare->piece.yarns[0].buy.balls, 1);
    CU_ASSERT_TRUE(report_says(&work, spare, "cream: a close call"));
    CU_ASSERT_TRUE(bare->piece.yarns[0].likely.margin_chance < 0.95);
    CU_ASSERT_EQUAL(bare->piece.yarns[0].margin_balls, 1);
    CU_ASSERT_EQUAL(bare->piece.yarns[0].buy.balls, 2);
    CU_ASSERT_TRUE(report_says(&work, bare, "the 2nd is to be 95"));
    CU_ASSERT_TRUE(report_says(&work, bare, "2 x 50 g"));
    CU_ASSERT_EQUAL(over->piece.yarns[0].margin_balls, 3);
    CU_ASSERT_EQUAL(over->piece.yarns[0].likely.sure_balls, 2);
    CU_ASSERT_EQUAL(over->piece.yarns[0].buy.balls, 3);
    CU_ASSERT_EQUAL(over->nchanges, 0);
    CU_ASSERT_TRUE(report_says(&work, over, "the 10 % to spare makes it 3"));
    arena_destroy(work.arena);
}

static void test_none(void)
{
    struct work work = fixture_work_with_tables();

    CU_ASSERT_EQUAL(sock(&work, 40, 1, 1000)->nchanges, 0);
    arena_destroy(work.arena);
}

/* Dark: a brim of its own, a plain part in light between, then a band half of it light; beside a
 * plain part of dark the same band hides nothing. */
static void test_odd_ball(void)
{
    static const char parts[] =
        "[swatch]\nworked = round\nwashed = yes\nover = 4 in\nstitches = 32, 32, 32\n"
        "rows = 38, 38, 38\nmarked = 75 stitches took 36 in\n"
        "[plain brim]\nyarn = dark\nrounds = 60\n%s"
        "[band reeds]\nchart = ripple.chart\nrepeats = 7\n[plain top]\nyarn = light\nrounds = 20\n"
        "[yarn dark]\nmark = x\nball = 25 g, %d m\n%s[yarn light]\nmark = .\nball = 25 g, 45 m\n";
    struct work work = fixture_work_with_tables();
    const char *gap = "[plain gap]\nyarn = light\nrounds = 6\n";
    struct text out = text_create(work.arena);
    struct words_style style = {.width = 80};
    struct text json = text_create(work.arena);
    const struct plan *apart = plan_of(&work, arena_printf(work.arena, parts, gap, 45, ""));
    const struct plan *beside = plan_of(&work, arena_printf(work.arena, parts, "", 45, ""));
    const struct plan *one = plan_of(&work, arena_printf(work.arena, parts, gap, 4500, ""));
    const struct plan *had = plan_of(&work, arena_printf(work.arena, parts, gap, 4500, "have = 10 m\n"));

    CU_ASSERT_EQUAL(apart->piece.yarns[0].hide_bands, 1);
    CU_ASSERT_EQUAL(apart->piece.yarns[1].hide_bands, 0);
    CU_ASSERT_EQUAL(beside->piece.yarns[0].hide_bands, 0);
    CU_ASSERT_TRUE(beside->piece.yarns[0].may_differ);
    CU_ASSERT_EQUAL_FATAL(one->piece.yarns[0].buy.balls, 1); /* nothing it could differ from */
    CU_ASSERT_FALSE(one->piece.yarns[0].may_differ);
    CU_ASSERT_EQUAL(one->piece.yarns[0].hide_bands, 0);
    CU_ASSERT_EQUAL_FATAL(had->piece.yarns[0].buy.balls, 1); /* but from what is in hand */
    CU_ASSERT_EQUAL(had->piece.yarns[0].hide_bands, 1);
    render_json(one, &json);
    CU_ASSERT_PTR_NOT_NULL(strstr(json.bytes, "\"odd_balls\": []"));
    render_report(&work, apart, &style, &out);
    CU_ASSERT_PTR_NOT_NULL(strstr(out.bytes, "dark: a ball of another dye lot hardly shows in band"));
    arena_destroy(work.arena);
}

/* The tall berry of test_choices.c, its sums there, sewn on over cream as the plan has it: knitted in instead it takes
 * 8 rounds of 11 catches in each of 2 pieces, 708 stitches' time; of all eight rounds alike. */
static void test_sewn_now(void)
{
    struct work work = fixture_work_with_tables();
    const struct plan *plan =
        plan_of(&work, "[project]\nmake = 2\n[swatch]\nworked = round\nwashed = yes\nover = 4 in\nstitches = 32\n"
                       "rows = 40\nunravelled = 100 stitches took 50 in\n[measure]\naround = 6 in\n[band tall]\n"
                       "chart = choices-tall.chart\nrepeats = 1\n[yarn cream]\nmark = .\n[yarn slate]\nmark = x\n"
                       "[yarn berry]\nmark = o\nduplicate over = cream\n[float]\ncatch at = 1 in\nslack = 10 %\n"
                       "placement = quick\n[pace]\nstitches an hour = 600\n");
    const struct plan_duplicate *tall = &plan->duplicates[0];

    CU_ASSERT_EQUAL_FATAL(plan->nduplicates, 1);
    CU_ASSERT_TRUE(tall->sewn_now);
    CU_ASSERT_EQUAL(tall->nrows, 8);
    CU_ASSERT_EQUAL(tall->stranded.catches, 2 * 8 * 11);
    CU_ASSERT_EQUAL(tall->stranded.rows_three, 16);
    CU_ASSERT_DOUBLE_EQUAL(tall->stranded.hours, 2 * 708 / 600.0, 1e-9);
    CU_ASSERT_EQUAL(tall->ngroups, 1);
    arena_destroy(work.arena);
}

CU_TestInfo tests_calls[] = {
    {"a ball saved by rounds fewer, the fewest that do", test_rounds},
    {"a ball saved by an edge in another yarn", test_edge},
    {"a ball saved by a band once less upwards", test_upwards},
    {"one repeat less, as the plan written so says", test_repeat},
    {"a kept swatch ripped", test_swatch},
    {"a kept swatch that takes a ball, no close call", test_swatch_ball},
    {"one number of balls, by margin and confidence together", test_words},
    {"room to spare in a last ball nearly used up", test_nearly_used},
    {"no close call, nothing to change", test_none},
    {"where an odd ball hardly shows", test_odd_ball},
    {"knitted in, where it is sewn on now", test_sewn_now},
    CU_TEST_INFO_NULL};
