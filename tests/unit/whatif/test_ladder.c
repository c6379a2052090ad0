/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The ladder of gauges. The ripple chart round a leg of 10 1/4 in was worked by hand at six gauges
 * (common practice, no printed source); the reeds at every gauge from 4 to 8.
 */
#include <CUnit/Basic.h>
#include <string.h>

#include "run.h"
#include "base/arena.h"
#include "base/text.h"
#include "fixture_measures.h"
#include "fixture_plan.h"
#include "render/render.h"

/* By hand: repeats nearest 10 1/4 in, inches round, longest float, catch number, catches. */
static void ripple_by_hand(void)
{
    static const struct {
        double per_in;
        int repeats;
        double finished_in, longest_in;
        int catch_number;
        int64_t catches;
    } hand[] = {
        {8, 7, 10.50, 1.25, 8, 28},   {7, 6, 10.29, 1.43, 7, 42},   {6, 5, 10.00, 1.67, 6, 35},
        {5.5, 5, 10.91, 1.82, 6, 35}, {5, 4, 9.60, 2.00, 5, 48},    {4.5, 4, 10.67, 2.22, 5, 48},
    };
    struct work work = fixture_plan_work();
    const struct plan *plan = NULL;

    CU_ASSERT_EQUAL_FATAL(run_plan(&work, "tests/projects/ladder.ini", &plan), RUN_DONE);
    CU_ASSERT_PTR_NOT_NULL_FATAL(plan->ladder);
    CU_ASSERT_EQUAL_FATAL(plan->ladder->nrungs, 6);
    CU_ASSERT_EQUAL(plan->ladder->own, 0);
    for (int i = 0; i < 6; i++) {
        const struct plan_rung *rung = &plan->ladder->rungs[i];
        const struct plan_piece *piece = &rung->at.piece;

        CU_ASSERT_TRUE_FATAL(rung->at.fits);
        CU_ASSERT_DOUBLE_EQUAL(piece->gauge.per_in, hand[i].per_in, 1e-12);
        CU_ASSERT_EQUAL(piece->bands[0].repeats, hand[i].repeats);
        CU_ASSERT_DOUBLE_EQUAL(piece->bands[0].finished_in, hand[i].finished_in, 0.005);
        CU_ASSERT_DOUBLE_EQUAL(piece->longest_in, hand[i].longest_in, 0.005);
        CU_ASSERT_EQUAL(piece->bands[0].leave_sts + 1, hand[i].catch_number);
        CU_ASSERT_EQUAL(piece->catches, hand[i].catches);
        CU_ASSERT_EQUAL(rung->at.verdict, i == 0 ? VERDICT_NOT_LONGER : VERDICT_LONGER);
    }
    CU_ASSERT_EQUAL(plan->ladder->free_to, -1);
    CU_ASSERT_EQUAL(plan->ladder->heaviest, 5);
    /* yarn 8 / 5 times as thick: a ball of the same weight holds 25 / 64 of the length */
    CU_ASSERT_DOUBLE_EQUAL(plan->ladder->rungs[4].at.piece.yarns[0].ball_m, 230 * 0.9144 * 25 / 64, 1e-9);
    /* rows in proportion: 9.5 x 5 / 8 */
    CU_ASSERT_DOUBLE_EQUAL(plan->ladder->rungs[4].at.piece.gauge.rows_per_in, 9.5 * 5 / 8, 1e-12);
    arena_destroy(work.arena);
}

/* By hand for the reeds, 26 repeats: over 4 up to 5 to the inch 208, over 5 up to 6 104, over 6 up to
 * 7 78, over 7 none: a repeat 8, 4, 3, 0. */
static void reeds_by_hand(void)
{
    static const struct {
        double to, from;
        int64_t catches;
    } hand[] = {{8, 7, 0}, {7, 6, 3}, {6, 5, 4}, {5, 4.25, 8}};
    struct work work = fixture_plan_work();
    const struct plan *plan = NULL;

    CU_ASSERT_EQUAL_FATAL(run_plan(&work, "tests/projects/reeds-ladder.ini", &plan), RUN_DONE);
    CU_ASSERT_PTR_NOT_NULL_FATAL(plan->ladder);
    CU_ASSERT_EQUAL_FATAL(plan->ladder->nsteps, 4);
    for (int i = 0; i < 4; i++) {
        const struct plan_ladder_step *step = &plan->ladder->steps[i];

        CU_ASSERT_DOUBLE_EQUAL(step->to_per_in, hand[i].to, 1e-12);
        CU_ASSERT_DOUBLE_EQUAL(step->from_per_in, hand[i].from, 1e-12);
        CU_ASSERT_EQUAL(step->catches, hand[i].catches);
        CU_ASSERT_EQUAL(step->own, i == 3); /* 5 to the inch, by "catch at" */
    }
    CU_ASSERT_EQUAL(plan->ladder->free_to, 0); /* 8 alone */
    for (int i = 0; i < plan->ladder->nrungs; i++) { /* a step says the same as the rung in it */
        const struct plan_piece *piece = &plan->ladder->rungs[i].at.piece;
        int64_t a_repeat = -1;

        for (int s = 0; s < 4; s++)
            if (piece->gauge.per_in > hand[s].from - 1e-9 && piece->gauge.per_in <= hand[s].to &&
                (s == 3 || piece->gauge.per_in > hand[s].from))
                a_repeat = hand[s].catches;
        CU_ASSERT_EQUAL(piece->catches, a_repeat * piece->bands[0].repeats);
    }
    arena_destroy(work.arena);
}

/* Before there is a swatch: the middles of the Craft Yarn Council's ranges, 33-40, 27-32, 23-26, 21-24,
 * 16-20, 12-15, 7-11 and "6 and fewer" stitches to 4 inches. None of them is hers. */
static void by_yarn_weight(void)
{
    static const double middle[] = {36.5, 29.5, 24.5, 22.5, 18, 13.5, 9, 6};
    static const char *const name[] = {"Lace", "Super Fine", "Fine", "Light",
                                       "Medium", "Bulky", "Super Bulky", "Jumbo"};
    struct work work = fixture_plan_work();
    const struct plan *plan = NULL;

    CU_ASSERT_EQUAL_FATAL(run_ladder(&work, "tests/ladder/no-swatch.ini", &plan), RUN_DONE);
    CU_ASSERT_PTR_NOT_NULL_FATAL(plan->ladder);
    CU_ASSERT_TRUE(plan->ladder->by_weight);
    CU_ASSERT_FALSE(plan->ladder->own_known);
    CU_ASSERT_EQUAL(plan->ladder->own, -1);
    CU_ASSERT_EQUAL(plan->ladder->heavier, -1);
    CU_ASSERT_EQUAL(plan->ladder->first_longer, -1);
    CU_ASSERT_FALSE(plan->piece.gauge.measured);
    CU_ASSERT_EQUAL_FATAL(plan->ladder->nrungs, 8);
    for (int i = 0; i < 8; i++) {
        CU_ASSERT_DOUBLE_EQUAL(plan->ladder->rungs[i].at.piece.gauge.per_in, middle[i] / 4, 1e-12);
        CU_ASSERT_STRING_EQUAL(plan->ladder->rungs[i].at.name, name[i]);
    }
    CU_ASSERT_EQUAL(run_plan(&work, "tests/ladder/no-swatch.ini", &plan), RUN_MEND);
    arena_destroy(work.arena);
}

/* At 2 to the inch one repeat of 12 is 6 in, half as much again as the 4 in wanted: the ladder says so. */
static void why_one_does_not_fit(void)
{
    struct work work = fixture_plan_work();
    const struct words_style style = {.width = 200};
    struct text text = text_create(work.arena);
    const struct plan *plan = NULL;

    CU_ASSERT_EQUAL_FATAL(run_ladder(&work, "tests/projects/ladder-narrow.ini", &plan), RUN_DONE);
    CU_ASSERT_EQUAL_FATAL(plan->ladder->nrungs, 2);
    CU_ASSERT_TRUE(plan->ladder->rungs[0].at.fits);
    CU_ASSERT_FALSE(plan->ladder->rungs[1].at.fits);
    render_ladder(&work, plan, &style, &text);
    CU_ASSERT_PTR_NOT_NULL(strstr(text.bytes, "one repeat of 12 stitches is 6 in"));
    arena_destroy(work.arena);
}

/* By the ranges above and their middles, by hand: 32 1/2 lies between two, nearer 29 1/2 than 36 1/2;
 * 24 is in two, nearer 24 1/2; 23 1/2 is as near to either; 20 1/2 is nearer 22 1/2 than 18. */
static void weights_by_name(void)
{
    static const char *const name[] = {"", "Super Fine", "Super Fine", "Fine", "Fine", "Fine or Light",
                                       "Light", "Light", "Light", "Medium", "Bulky", "Super Bulky",
                                       "Jumbo"};
    struct work work = fixture_plan_work();
    const struct plan *plan = NULL;

    CU_ASSERT_EQUAL_FATAL(run_ladder(&work, "tests/ladder/weights.ini", &plan), RUN_DONE);
    CU_ASSERT_PTR_NOT_NULL_FATAL(plan->ladder);
    CU_ASSERT_EQUAL_FATAL(plan->ladder->nrungs, 13);
    for (int i = 0; i < 13; i++)
        CU_ASSERT_STRING_EQUAL(plan->ladder->rungs[i].at.name, name[i]);
    arena_destroy(work.arena);
}

/* At 4.5 to the inch 72 stitches are 16 in, at 9.125 they are 8: neither is hers. The rib goes by the
 * band's 48 and 96, the leg with the rib, and no ball is counted. */
static void counts_of_no_gauge(void)
{
    struct work work = fixture_plan_work();
    const struct plan *plan = NULL;

    CU_ASSERT_EQUAL_FATAL(run_ladder(&work, "tests/ladder/counts.ini", &plan), RUN_DONE);
    CU_ASSERT_PTR_NOT_NULL_FATAL(plan->ladder);
    CU_ASSERT_TRUE(plan->ladder->counts_left_out);
    for (int i = 0; i < plan->ladder->nrungs; i++) {
        const struct plan_piece *piece = &plan->ladder->rungs[i].at.piece;

        CU_ASSERT_EQUAL(piece->cast_on.rib_sts, piece->bands[0].stitches); /* 12 is a multiple of 4 */
        for (int s = 0; s < piece->nsteps; s++) {
            CU_ASSERT_NOT_EQUAL(piece->steps[s].kind, STEP_SHAPE);
            CU_ASSERT_TRUE(!piece->steps[s].counted_otherwise || piece->steps[s].stitches == 0);
        }
        for (int y = 0; y < piece->nyarns; y++)
            CU_ASSERT_FALSE(piece->yarns[y].has_ball);
    }
    CU_ASSERT_EQUAL_FATAL(run_ladder(&work, "tests/projects/ladder.ini", &plan), RUN_DONE);
    CU_ASSERT_FALSE(plan->ladder->counts_left_out);
    CU_ASSERT_EQUAL(plan->ladder->first_longer, 1); /* 1.43 in after 1.25, by hand above */
    arena_destroy(work.arena);
}

/* The ripple's longest float, 10 stitches, is 2 in at her own 5 to the inch, 2.08 at 4 4/5, 2 1/2 at 4; 4 19/20 is
 * hardly another gauge than hers. Up to 2 1/4 in may be left. */
static void the_first_that_is_too_long(void)
{
    static const int rungs = 5, own = 1, next = 3, last = 4; /* 6, 5, 4 19/20, 4 4/5, 4 */
    struct work work = work_new();
    const struct plan_ladder *ladder =
        good_plan(&work, ROUND "[measure]\naround = 10 in\n[band one]\nchart = ripple.chart\n" YARNS
                         "[float]\nleave up to = 2 1/4 in\n[ladder]\nover = 1 in\n"
                         "stitches = 4, 4 4/5, 4 19/20, 6\n")->ladder;

    CU_ASSERT_EQUAL_FATAL(ladder->nrungs, rungs);
    CU_ASSERT_EQUAL(ladder->own, own);
    CU_ASSERT_EQUAL(ladder->finest, 0);
    CU_ASSERT_EQUAL(ladder->heaviest, last);
    CU_ASSERT_EQUAL(ladder->free_to, next);
    CU_ASSERT_EQUAL(ladder->heavier, next);
    CU_ASSERT_EQUAL(ladder->first_longer, last);
    CU_ASSERT_EQUAL(ladder->rungs[last].at.verdict, VERDICT_TOO_LONG);
    fixture_end(&work);
}

CU_TestInfo tests_ladder[] = {
    {"six gauges worked by hand", ripple_by_hand},
    {"steps of the reeds", reeds_by_hand},
    {"the first that is too long", the_first_that_is_too_long},
    {"by yarn weight, without a swatch", by_yarn_weight},
    {"why one does not fit", why_one_does_not_fit},
    {"names of yarn weights", weights_by_name},
    {"counts that belong to no gauge", counts_of_no_gauge},
    CU_TEST_INFO_NULL,
};
