/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is said of measurements that cannot be, do not go together, or not with the gauge: every
 * figure as she would find it with pencil and paper.
 */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "base/text.h"
#include "fixture_project.h"
#include "plan/plan.h"
#include "read/chart/chart.h"
#include "render/render.h"

extern CU_TestInfo tests_judged[];

static const double nine = 1.644854; /* nine in ten, printed in any table of the normal */

/* Lines 1 to 6; what is measured begins on line 7. */
#define GAUGE                                                                                      \
    "[swatch]\nworked = round\nwashed = yes\nover = 4 in\nstitches = 20, 20, 20\n"                 \
    "rows = 26, 26, 26\n"
#define BAND                                                                                       \
    "[band reeds]\nchart = reeds.chart\nrepeats = 26\nupwards = 4\n"                               \
    "[yarn ground]\nmark = .\nball = 25 g, 45 m\n[yarn reed]\nmark = x\nball = 25 g, 45 m\n"

struct judged {
    struct work work;
    const struct plan *plan; /* NULL: refused */
    const char *said;
    struct text report;
};

/* All messages, each on one line: "judged.ini:9:10: Caution: ... [code]". */
static const char *said_of(struct work *work)
{
    struct text said = text_create(work->arena);
    int count;
    const struct diag *all = diagnostics_sorted(work->diagnostics, &count);

    text_add(&said, "");
    for (int i = 0; i < count; i++)
        text_addf(&said, "judged.ini:%d:%d: %s%s %s [%s]\n", all[i].at.line, all[i].at.column,
                  diag_code_severity(all[i].code) == DIAG_CAUTION ? "Caution: " : "", all[i].what,
                  all[i].todo, diag_code_text(all[i].code));
    return said.bytes;
}

static struct judged judge(const char *measured, const char *more)
{
    struct judged out = {.work = fixture_work_with_tables()};
    struct work *work = &out.work;
    const struct words_style style = {.width = 1000};
    const struct source *source = source_from_text(
        work, "tests/projects/judged.ini", arena_printf(work->arena, GAUGE "%s" BAND "%s", measured, more));
    const struct project *project = project_read_source(work, source);
    const struct chart *charts[4] = {NULL};

    for (int i = 0; i < project->nparts; i++)
        charts[i] = chart_read_band(work, project, &project->parts[i]);
    CU_ASSERT_FALSE_FATAL(diagnostics_fatal(work->diagnostics));
    out.plan = plan_build(work, project, charts);
    out.report = text_create(work->arena);
    if (out.plan)
        render_report(work, out.plan, &style, &out.report);
    out.said = said_of(work);
    return out;
}

static bool says(const struct judged *judged, const char *words)
{
    bool found = strstr(judged->said, words) != NULL;

    if (!found)
        fprintf(stderr, "\nnot said: %s\nin: %s\n", words, judged->said);
    return found;
}

/* 28 l + 12 s = 25, 12 l + 28 s = 15 3/4: 40 (l + s) = 40.75 in, so 1760 stitches are 1793 in or
 * 45.54 m, at 1.8 m to the gram 25.3 g. */
#define ROW "unravelled = 40 stitches: ground 28 took 25 in, reed 12 took 15 3/4 in\nscale = 0.1 g\n"

/* 49.1 g are 1.94 times that: about twice, so it is the band (line 16); and refused. 22.3 g are 0.88 of
 * it: between, so it may be the weighing (line 9). 25.8 g are 2 % off, as a ball may be. */
static void test_weighing_against_row(void)
{
    struct judged twice = judge(ROW "weight = 49.1 g: 40 stitches, 44 rows\n", "");
    struct judged less = judge(ROW "weight = 22.3 g: 40 stitches, 44 rows\n", "");
    struct judged alike = judge(ROW "weight = 25.8 g: 40 stitches, 44 rows\n", "");

    CU_ASSERT_PTR_NULL(twice.plan);
    CU_ASSERT_TRUE(says(&twice, "judged.ini:16:8: Your row (line 7) and your weighing (line 9) disagree: "
                                "by the scale there is 94 % more yarn in the stitches than by the tape."));
    CU_ASSERT_TRUE(says(&twice, "on the ball band of ground (25 g, 45 m)? Tape and scale would agree if "
                                "that were the length of 50 g."));
    CU_ASSERT_TRUE(says(&twice, "[swatch-contradicts]"));
    CU_ASSERT_PTR_NOT_NULL(less.plan);
    CU_ASSERT_TRUE(says(&less, "judged.ini:9:10: Caution: Your row (line 7) and your weighing (line 9) "
                               "disagree: by the scale there is 12 % less yarn"));
    CU_ASSERT_EQUAL(less.plan->piece.loop.doubt, DOUBT_TOGETHER);
    CU_ASSERT_TRUE(less.plan->piece.loop.excess > 6.6);
    CU_ASSERT_PTR_NOT_NULL(alike.plan);
    CU_ASSERT_PTR_NULL(strstr(alike.said, "disagree"));
    fixture_end(&twice.work);
    fixture_end(&less.work);
    fixture_end(&alike.work);
}

/* Two rows, and swatch and ball both a fifth too light: 16 (l - s) = 9.25 in, so l = 0.7984 and s =
 * 0.2203; 1760 (l + s) are 25.3 g and 950 l + 650 s = 901.7 in are 12.7 g. The fit would take the slack
 * along; both weighings agree, so it is the band. */
static void test_weighings_together(void)
{
    struct judged both = judge(ROW "unravelled 2 = 40 stitches: ground 28 took 25 in, reed 12 took 15 3/4 in\n"
                                   "weight = 20.2 g: 40 stitches, 44 rows\n"
                                   "ball weighed = reed 24.0 g to 13.8 g: 1600 stitches, 950 in reed\n",
                               "");

    CU_ASSERT_PTR_NULL(both.plan);
    CU_ASSERT_TRUE(says(&both, "judged.ini:18:8: Your rows and your weighings disagree: by the scale "
                               "there is 20 % less yarn"));
    CU_ASSERT_PTR_NOT_NULL(strstr(both.said, "[swatch-contradicts]"));
    fixture_end(&both.work);
}

/* One weighing of two is off by a half: that one, not the kind. 950 l + 650 s are 12.7 g by hand. */
static void test_one_of_the_weighings(void)
{
    struct judged one = judge(ROW "weight = 25.3 g: 40 stitches, 44 rows\nweight 2 = 25.2 g: 40 stitches, 44 rows\n"
                                  "ball weighed = reed 34.0 g to 15.3 g: 1600 stitches, 950 in reed\n",
                              "");

    CU_ASSERT_PTR_NULL(one.plan);
    CU_ASSERT_TRUE(says(&one, "the ball of reed weighed (line 11) gave"));
    CU_ASSERT_PTR_NULL(strstr(one.said, "disagree"));
    fixture_end(&one.work);
}

/* 24 in against 22 and 22 1/4 for as many stitches: 24 / 22.125 is 8 % more. In the plan no line stands
 * beside the words, so they name it. */
static void test_named_in_the_plan(void)
{
    struct judged rows = judge("unravelled = 30 stitches took 22 in\nunravelled 2 = 30 stitches took 22 1/4 in\n"
                               "unravelled 5 = 30 stitches took 24 in\n",
                               "");

    CU_ASSERT_PTR_NOT_NULL_FATAL(rows.plan);
    CU_ASSERT_PTR_NOT_NULL(strstr(rows.report.bytes, "the 5th row unravelled (line 9) gave 8 % more yarn than "
                                                     "the others lead one to expect"));
    fixture_end(&rows.work);
}

/* 45 stitches of 45 in. By hand: 1 in a stitch; from the gauge sqrt(21.6 / (5 x 6.5)) = 0.815 in within
 * 15 %. Of the 45 in the tape may be out by 1/8 in over root 12, the knitting by 2 % and the last stitch
 * by one over root 12, pulling by 2 %, nine in ten: so much, times ln(1 / 0.815) in the errors of both. */
static void test_wider_by_the_gauge(void)
{
    struct judged far = judge("marked = 45 stitches took 45 in\n", "");
    double own = sqrt(1 / 64.0 / 12 + pow(0.02 / nine * 45, 2) + 1 / 12.0) / 45;
    double sd = hypot(own, 0.02 / nine), usual_in = sqrt(21.6 / (5 * 6.5)), times;

    CU_ASSERT_PTR_NOT_NULL_FATAL(far.plan);
    times = log(1 / usual_in) / hypot(sd, far.plan->piece.loop.gauge_error_part / nine);
    CU_ASSERT_TRUE(times > nine);
    CU_ASSERT_DOUBLE_EQUAL(far.plan->piece.loop.error_part, nine * sd * times, 1e-5);
    CU_ASSERT_EQUAL(far.plan->piece.loop.doubt, DOUBT_GAUGE);
    CU_ASSERT_TRUE(says(&far, "Measured, a stitch takes 1 in (25.4 mm) of yarn; from the gauge alone it "
                              "would be 0.815 in (20.7 mm)"));
    CU_ASSERT_PTR_NOT_NULL(strstr(far.report.bytes, "Measure once more"));
    CU_ASSERT_PTR_NULL(strstr(far.report.bytes, "would change that little"));
    fixture_end(&far.work);
}

/* Ground's rows of 30 in for 40, reed's of 36: by hand 0.75 and 0.9 in a stitch. Both places of the report
 * name the yarns, and the trust is that of the stitch known worse. */
static void test_each_yarn_named(void)
{
    struct judged two = judge("unravelled = 40 stitches of ground took 30 in\n"
                              "unravelled 2 = 40 stitches of ground took 30 in\n"
                              "unravelled 3 = 40 stitches of reed took 36 in\n",
                              "");
    const struct plan_loop *loop = &two.plan->piece.loop;
    double worst = 0;

    CU_ASSERT_TRUE_FATAL(loop->by_yarn);
    CU_ASSERT_PTR_NOT_NULL(strstr(two.report.bytes, "the yarns differ: a stitch takes 0.75 in (19.1 mm) in "
                                                    "ground, 0.9 in (22.9 mm) in reed."));
    CU_ASSERT_PTR_NOT_NULL(strstr(two.report.bytes, "A stitch takes 0.75 in (19.1 mm) in ground, 0.9 in "
                                                    "(22.9 mm) in reed, from all you measured together"));
    for (int i = 0; i < 2; i++)
        worst = fmax(worst, loop->yarn[i].fit->covariance[loop->yarn[i].group][loop->yarn[i].group]);
    CU_ASSERT_DOUBLE_EQUAL(loop->error_part, nine * sqrt(worst), 1e-5);
    fixture_end(&two.work);
}

/* One row of nine far off: nothing more would help much, and the report does not say that nothing is
 * wanted. */
static void test_doubt_and_advice(void)
{
    struct judged rows = judge("unravelled = 40 stitches: ground 28 took 25 in, reed 12 took 15 3/4 in\n"
                               "unravelled 2 = 40 stitches: ground 28 took 25 in, reed 12 took 15 3/4 in\n"
                               "unravelled 3 = 40 stitches: ground 28 took 25 in, reed 12 took 15 3/4 in\n"
                               "unravelled 4 = 40 stitches took 32 in\nunravelled 5 = 40 stitches took 32 in\n"
                               "unravelled 6 = 40 stitches took 32 in\nunravelled 7 = 40 stitches took 32 in\n"
                               "unravelled 8 = 40 stitches took 32 in\nunravelled 9 = 40 stitches took 37 in\n",
                               "");

    CU_ASSERT_PTR_NOT_NULL_FATAL(rows.plan);
    CU_ASSERT_EQUAL(rows.plan->piece.loop.doubt, DOUBT_TOGETHER);
    CU_ASSERT_EQUAL(rows.plan->piece.loop.advice.measure, MEASURE_NOTHING);
    CU_ASSERT_PTR_NOT_NULL(strstr(rows.report.bytes, "for your measurements do not go together: measure once more."));
    CU_ASSERT_PTR_NULL(strstr(rows.report.bytes, "would change that little"));
    fixture_end(&rows.work);
}

static void test_centimetres_first(void)
{
    struct judged far = judge("marked = 45 stitches took 45 in\n", "[project]\nunits = cm\n");

    CU_ASSERT_TRUE(says(&far, "a stitch takes 25.4 mm (1 in) of yarn"));
    fixture_end(&far.work);
}

/* Of an even row stitch and strand cannot be told apart; with the slack given they can. By hand, 1.12
 * widths of 1/5 in: (20 1/2 - 20 x 0.224) / 20 = 0.801 in. */
static void test_even_row_with_slack(void)
{
    static const char row[] = "unravelled = 40 stitches: ground 20 took 20 1/2 in, reed 20 took 20 1/2 in\n";
    struct judged without = judge(row, ""), with = judge(row, "[float]\nslack = 12 %\n");

    CU_ASSERT_PTR_NULL(without.plan);
    CU_ASSERT_TRUE(says(&without, "as many stitches of one yarn as of the other"));
    CU_ASSERT_PTR_NOT_NULL_FATAL(with.plan);
    CU_ASSERT_DOUBLE_EQUAL(with.plan->piece.loop.loop_mm / 25.4, 0.801, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(with.plan->piece.loop.slack_ratio, 1.12, 1e-12);
    fixture_end(&without.work);
    fixture_end(&with.work);
}

/* Advice by what was used: a scale is not pulled straight. */
static void test_advice_by_kind(void)
{
    struct judged light = judge("weight = 0.1 g: 40 stitches, 44 rows\n", "");
    struct judged turned = judge("unravelled = 40 stitches: ground 28 took 4.5 in, reed 12 took 25 in\n", "");
    struct judged heavy = judge("ball weighed = reed 240 g to 44 g: 300 stitches, 200 in reed\n", "");
    struct judged tiny = judge("marked = 1000 stitches took 0.01 in\n", "");

    CU_ASSERT_TRUE(says(&light, "too little yarn for these stitches"));
    CU_ASSERT_TRUE(says(&light, "Weigh again"));
    CU_ASSERT_PTR_NULL(strstr(light.said, "pulled straight"));
    CU_ASSERT_TRUE(says(&turned, "no length at all"));
    CU_ASSERT_TRUE(says(&turned, "pulled straight"));
    CU_ASSERT_PTR_NULL(strstr(turned.said, "Weigh"));
    CU_ASSERT_TRUE(says(&heavy, "The ball weighs more than its band says, 240 g for 25 g"));
    CU_ASSERT_TRUE(says(&tiny, "next to no yarn for a stitch"));
    CU_ASSERT_PTR_NULL(strstr(tiny.said, "0.0 mm"));
    fixture_end(&light.work);
    fixture_end(&turned.work);
    fixture_end(&heavy.work);
    fixture_end(&tiny.work);
}

CU_TestInfo tests_judged[] = {
    {"a weighing against a row, by hand", test_weighing_against_row},
    {"weighings that agree with each other", test_weighings_together},
    {"one weighing of several", test_one_of_the_weighings},
    {"named in the plan", test_named_in_the_plan},
    {"wider where the gauge disagrees", test_wider_by_the_gauge},
    {"each yarn named", test_each_yarn_named},
    {"a doubt and the advice", test_doubt_and_advice},
    {"centimetres first", test_centimetres_first},
    {"an even row with the slack given", test_even_row_with_slack},
    {"advice by kind", test_advice_by_kind},
    CU_TEST_INFO_NULL,
};
