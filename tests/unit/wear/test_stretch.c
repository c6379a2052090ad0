/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Will it go over the heel. The model is a working one of practitioners, without a printed source;
 * the ripple cuff was worked by hand: e 1.5, f 1.10 x 1.05 = 1.155.
 */
#include <CUnit/Basic.h>
#include <math.h>

#include "run.h"
#include "base/arena.h"
#include "fixture_plan.h"
#include "model/wear/stretch.h"

/* By hand: 2 of 12 is 0.25 + 0.9625 = 1.2125; 12.25 x 8 / 1.2125 = 80.8. A swatch half and half that
 * pulls 4 to 5.3: (1.325 - 0.75) / 0.5 = 1.15. */
static void by_hand(void)
{
    CU_ASSERT_DOUBLE_EQUAL(stretch_ratio(2, 12, 1.5, 1.155), 1.2125, 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(stretch_stitches(12.25, 8.0, 1.2125), 80.8247, 1e-4);
    CU_ASSERT_DOUBLE_EQUAL(stretch_float_ratio(1, 2, 1.5, 5.3 / 4.0), 1.15, 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(stretch_ratio(1, 2, 1.5, 1.155), 1.3275, 1e-12); /* one and one: "1.33" */
}

/* The second definition: every yarn that is there, tried. All rows of three yarns to 5 stitches each. */
static void tightest_of_all(void)
{
    const double pulls[2][2] = {{1.5, 1.155}, {1.3, 1.62}}; /* floats looser than stitches too */

    for (int i = 0; i < 6 * 6 * 6; i++)
        for (int p = 0; p < 2; p++) {
            int64_t count[3] = {i % 6, i / 6 % 6, i / 36}, all = count[0] + count[1] + count[2];
            int yarns = (count[0] > 0) + (count[1] > 0) + (count[2] > 0), yarn;
            double least = HUGE_VAL, ratio;

            for (int k = 0; k < 3; k++)
                if (count[k] > 0)
                    least = fmin(least, ((double)count[k] * pulls[p][0] +
                                         (double)(all - count[k]) * pulls[p][1]) / (double)all);
            yarn = stretch_tightest(count, 3, pulls[p][0], pulls[p][1], &ratio);
            CU_ASSERT_EQUAL(yarn >= 0, yarns > 1);
            CU_ASSERT_DOUBLE_EQUAL(ratio, yarns > 1 ? least : pulls[p][0], 1e-12);
        }
}

static const struct plan_stretch *stretch_of(struct work *work, const char *project)
{
    const struct plan *plan = NULL;

    if (run_plan(work, project, &plan) != RUN_DONE)
        return NULL;
    return plan->piece.bands[0].stretch;
}

/* By hand, 84 stitches: 10.5 x 1.2125 = 12.73 passes 12 1/4, by 0.48 in. Round 9 has 2 slate of 12. */
static void ripple_passes(void)
{
    struct work work = fixture_plan_work();
    const struct plan_stretch *stretch = stretch_of(&work, "tests/projects/heel.ini");

    CU_ASSERT_PTR_NOT_NULL_FATAL(stretch);
    CU_ASSERT_EQUAL(stretch->tightest, 8);
    CU_ASSERT_EQUAL(stretch->rows[8].yarn, 1);
    CU_ASSERT_EQUAL(stretch->rows[8].own, 2);
    CU_ASSERT_EQUAL(stretch->rows[8].all, 12);
    CU_ASSERT_DOUBLE_EQUAL(stretch->pulls_to_in, 12.73125, 1e-9);
    CU_ASSERT_TRUE(stretch->passes);
    CU_ASSERT_TRUE(stretch->close); /* 3.9 % over */
    CU_ASSERT_EQUAL(stretch->rows[0].yarn, -1); /* all cream: 1.5 */
    CU_ASSERT_DOUBLE_EQUAL(stretch->rows[0].pulls_to_in, 15.75, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(stretch->rows[1].pulls_to_in, 10.5 * 1.3275, 1e-9); /* one and one */
    CU_ASSERT_EQUAL(diagnostics_count(work.diagnostics, DIAG_CAUTION), 2); /* one place, twice */
    arena_destroy(work.arena);
}

/* By hand, 72 stitches: 9.0 x 1.2125 = 10.91 does not pass; 80.8, so 84; the floats of round 9 would
 * need (12.25 / 9 - 0.25) / (10 / 12) = 1.33, slack 1.27: loops. Gauge 72 x 1.2125 / 12.25 = 7.127. */
static void ripple_stopped(void)
{
    struct work work = fixture_plan_work();
    const struct plan_stretch *stretch = stretch_of(&work, "tests/projects/heel-small.ini");

    CU_ASSERT_PTR_NOT_NULL_FATAL(stretch);
    CU_ASSERT_FALSE(stretch->passes);
    CU_ASSERT_DOUBLE_EQUAL(stretch->pulls_to_in, 10.9125, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(stretch->spare_in, -1.3375, 1e-9);
    CU_ASSERT_EQUAL(stretch->stopping, 11); /* all but rounds 1, 4 and 14, in one yarn: half and half 11.95 */
    CU_ASSERT_DOUBLE_EQUAL(stretch->need_sts, 80.8247, 1e-4);
    CU_ASSERT_EQUAL(stretch->need_repeats, 7);
    CU_ASSERT_DOUBLE_EQUAL(stretch->need_in, 10.5, 1e-9);
    CU_ASSERT_TRUE(stretch->loosen && stretch->loosen_loops);
    CU_ASSERT_DOUBLE_EQUAL(stretch->loosen_float_ratio, 1.33333, 1e-5);
    CU_ASSERT_DOUBLE_EQUAL(stretch->loosen_slack_ratio, 1.26984, 1e-5);
    CU_ASSERT_DOUBLE_EQUAL(stretch->needle_per_in, 7.12653, 1e-5);
    CU_ASSERT_FALSE(stretch->needle_near);
    CU_ASSERT_EQUAL(stretch->sew_rows, 0); /* rows half and half are no spots to sew on */
    arena_destroy(work.arena);
}

/* By hand: a pulled swatch takes the model's place: f 1.15, round 9 at (2 x 1.5 + 10 x 1.15) / 12. */
static void pull_beats_model(void)
{
    struct work work = fixture_plan_work();
    const struct plan_stretch *stretch = stretch_of(&work, "tests/projects/heel-pulled.ini");

    CU_ASSERT_PTR_NOT_NULL_FATAL(stretch);
    CU_ASSERT_TRUE(stretch->float_pulled && stretch->stitch_pulled);
    CU_ASSERT_DOUBLE_EQUAL(stretch->float_ratio, 1.15, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(stretch->pulls_to_in, 10.5 * 14.5 / 12, 1e-9);
    arena_destroy(work.arena);
}

/* Lone stitches in one round of a chart: by hand, 7 of 56 pull to 1.5 / 8 + 1.155 x 7 / 8 = 1.198,
 * and sewn on, that round is plain. */
static void lone_tips(void)
{
    struct work work = fixture_plan_work();
    const struct plan_stretch *stretch = stretch_of(&work, "tests/projects/tips.ini");

    CU_ASSERT_PTR_NOT_NULL_FATAL(stretch);
    CU_ASSERT_FALSE(stretch->passes);
    CU_ASSERT_EQUAL(stretch->stopping, 1);
    CU_ASSERT_EQUAL(stretch->tightest, 2);
    CU_ASSERT_DOUBLE_EQUAL(stretch->pulls_to_in, 8.0 * 1.198125, 1e-9);
    CU_ASSERT_EQUAL(stretch->sew_rows, 1);
    CU_ASSERT_EQUAL(stretch->sew_sts, 7);
    CU_ASSERT_TRUE(stretch->sew_yarn >= 0 && stretch->sew_over >= 0);
    CU_ASSERT_NOT_EQUAL(stretch->sew_yarn, stretch->sew_over);
    CU_ASSERT_FALSE(stretch->just_short);
    arena_destroy(work.arena);
}

CU_TestInfo tests_stretch[] = {
    {"ratios worked by hand", by_hand},
    {"the tightest yarn, all tried", tightest_of_all},
    {"84 stitches pass", ripple_passes},
    {"72 stitches do not", ripple_stopped},
    {"a pulled swatch beats the model", pull_beats_model},
    {"lone tips sewn on", lone_tips},
    CU_TEST_INFO_NULL,
};
