/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Counts that several parts share, and how far a band pulls. Figures worked by hand from 5 stitches to the inch
 * where nothing else is said; invented.
 */
#include <math.h>

#include "fixture_measures.h"

extern CU_TestInfo tests_shared[];

/* --- one count for several ------------------------------------------------------------------- */

/* 23 x 12 = 276; 12 and 8 go into 24, and so into 264 = 22 x 12 and 288 = 24 x 12. */
static void counts_that_would_do_suit_all(void)
{
    struct work work = work_new();

    CU_ASSERT_PTR_NULL(plan_of(&work, ROUND "[measure]\naround = 55 in\n[band waves]\nchart = tip-12.chart\n"
                                            "repeats = 23\n[band buds]\nchart = bud-8.chart\n"
                                            "count = as below\n" YARNS));
    says(unfolded(&work, fixture_printed(&work, false)),
         "Write repeats = 24 under [band waves], 288 stitches, 57 5/8 in (146.3 cm); or repeats = 22 under "
         "[band waves], 264 stitches, 52 3/4 in (134.1 cm);");
    fixture_end(&work);
}

/* 264 stitches of 7 under a plain top at 6.5: as wide would be 284.3. Every count counted out. */
static void a_border_names_a_count_for_all_that_share_it(void)
{
    struct work work = work_new();
    const struct plan *plan = good_plan(
        &work,
        "[swatch]\nworked = round\nwashed = yes\nover = 4 in\nstitches = 28, 28\nrows = 36, 36\n"
        PLAIN_SWATCH("26, 26") "[measure]\naround = 37.7 in\n[band waves]\nchart = tip-12.chart\n"
        "[band buds]\nchart = bud-8.chart\ncount = as below\n"
        "[band dots]\nchart = dot-6.chart\ncount = as below\n"
        "[plain top]\nyarn = pale\nlength = 5 in\n" YARNS);
    const struct plan_border *border = plan->piece.borders;
    int nearest = 0;

    CU_ASSERT_EQUAL_FATAL(plan->piece.nborders, 1);
    CU_ASSERT_EQUAL(border->band_sts, 264);
    for (int count = 1; count < 1000; count++)
        if (count % 12 == 0 && count % 8 == 0 && count % 6 == 0 &&
            fabs(count - border->even_sts) <= fabs(nearest - border->even_sts))
            nearest = count;
    CU_ASSERT_EQUAL(nearest, 288);
    CU_ASSERT_EQUAL(border->fit_sts, nearest);
    CU_ASSERT_EQUAL(border->fit_repeats, 48);
    CU_ASSERT_STRING_EQUAL(border->fit_sharers, "waves and buds");
    fixture_end(&work);
}

/* Nothing is off but the neck: 18.3 in are 91.5 stitches, 92, 18.4 in. */
static void measures_in_all_are_all(void)
{
    struct work work = work_new();
    const struct plan *plan = good_plan(
        &work, ROUND "[measure]\naround = 40 in\ncounts = together\n[band a]\nchart = slant-4.chart\n"
               "[band b]\nchart = dot-6.chart\naround = 30 in\n[plain neck]\nyarn = pale\n"
               "rounds = 9\naround = 18.3 in\n" YARNS);

    CU_ASSERT_PTR_NOT_NULL_FATAL(plan->piece.together);
    CU_ASSERT_DOUBLE_EQUAL(plan->piece.together->sets[0].off_in, 0.1, 1e-9);
    fixture_end(&work);
}

/* 36 = 6 x 6 is the measure of 7.2 in to the stitch, and only does not pass. */
static void a_count_that_suits_and_does_not_pass(void)
{
    struct work work = work_new();
    const struct plan *plan = good_plan(
        &work, ROUND "[measure]\naround = 14.4 in\ncounts = together\nmust pass = 14.4 in\n[band one]\n"
               "chart = dot-6.chart\n[band two]\nchart = dot-6.chart\naround = 50 %\n" YARNS);
    const char *report = report_of(&work, plan);

    CU_ASSERT_TRUE(plan->piece.together->stages[1].stopped);
    says(report, "counts that suit are there, but none near it passes.");
    says(report, "of its measure passes what two must");
    says_not(report, "of its measure suits");
    CU_ASSERT_TRUE(plan->piece.bands[1].stretch->passes);
    fixture_end(&work);
}

/* Of 7 in, 35 stitches, 3 x 12 = 36 is near and 24 is not: no pass in it. */
static void a_count_that_does_not_suit(void)
{
    struct work work = work_new();
    const struct plan *plan = good_plan(
        &work, ROUND "[measure]\naround = 6 in\ncounts = together\n[band one]\nchart = tip-12.chart\n"
               "[band two]\nchart = tip-12.chart\n" YARNS);

    CU_ASSERT_TRUE(plan->piece.together->stages[0].far);
    CU_ASSERT_FALSE(plan->piece.together->stages[0].stopped);
    says(report_of(&work, plan), "of its measure suits");
    fixture_end(&work);
}

/* 30 in are 150, 25 repeats of 6. From a hem of 149 it would be simplest to go on with 149: the band that takes
 * the count has its say first. 30.1 in are 150.5 and 29.8 in 149: 150 is within a hundredth. 30.5 in are 152.5,
 * and neither 150 nor 156 is. */
static void a_plain_part_has_a_count_that_is_taken(void)
{
    static const char *const around[] = {"30 in", "30.1 in", "29.8 in", "30.5 in"};

    for (int i = 0; i < 4; i++) {
        struct work work = work_new();
        const struct plan *plan = plan_of(
            &work, arena_printf(work.arena,
                                ROUND "[measure]\naround = 30 in\n[plain hem]\nyarn = pale\nrounds = 4\n"
                                      "stitches on needle = 149\n[plain low]\nyarn = pale\nrounds = 9\n"
                                      "around = %s\n[band six]\nchart = dot-6.chart\n"
                                      "count = as below\n" YARNS,
                                around[i]));

        CU_ASSERT_EQUAL(plan != NULL, i < 3);
        if (plan) {
            CU_ASSERT_EQUAL(step_of(plan, "low")->to_sts, 150);
            CU_ASSERT_EQUAL(plan->piece.bands[0].repeats, 25);
        }
        fixture_end(&work);
    }
}

/* --- how far it pulls ------------------------------------------------------------------------ */

#define PULLED(pulls)                                                                             \
    "[swatch]\n" SWATCH("round") "pulls = " pulls "\n[measure]\naround = 12 in\nmust pass = 12 1/2 in\n" \
    "[band one]\nchart = tip-12.chart\n" YARNS

static void an_impossible_pull_says_nothing(void)
{
    struct work work = work_new();
    const struct plan *plan = good_plan(&work, PULLED("4 in to 4.1 in, 6 of 12"));
    const char *report = report_of(&work, plan), *head = strstr(report, "BEFORE YOU CAST ON");

    CU_ASSERT_PTR_NULL(plan->piece.bands[0].stretch);
    CU_ASSERT_TRUE(has_note(plan, DIAG_PULL_TIGHT));
    says(report, "BEFORE YOU CAST ON - By this pull the floats are shorter");
    CU_ASSERT_PTR_NOT_NULL(head);
    says_not(report, "pulls to about");
    says_not(report, "would pass");
    fixture_end(&work);
    work = work_new();
    CU_ASSERT_PTR_NULL(plan_of(&work, PULLED("4 in to 5 in, 7 of 12")));
    says(unfolded(&work, fixture_printed(&work, false)), "the other yarn in that row: 5 of 12");
    fixture_end(&work);
    work = work_new();
    plan = good_plan(&work, PULLED("4 in to 5 in, 6 of 12")); /* just half is no more than half */
    CU_ASSERT_PTR_NOT_NULL(plan->piece.bands[0].stretch);
    fixture_end(&work);
}

/* Nor where nothing is to be passed and the band is snug: it said "an ease of --46 %". */
static void an_impossible_pull_says_nothing_of_a_snug_band(void)
{
    struct work work = work_new();
    const struct plan *plan = good_plan(
        &work, "[swatch]\n" SWATCH("round") "pulls = 4 in to 4.1 in, 6 of 12\n[measure]\naround = 13 in\n"
               "ease = -10 %\n[band one]\nchart = tip-12.chart\n" YARNS);

    CU_ASSERT_TRUE(has_note(plan, DIAG_PULL_TIGHT));
    CU_ASSERT_FALSE(has_note(plan, DIAG_WILL_NOT_PASS));
    says_not(report_of(&work, plan), "can still be pulled on");
    fixture_end(&work);
}

static void a_try_says_whether_it_passes(void)
{
    struct work work = work_new();
    const struct plan *plan = good_plan(
        &work, ROUND "[measure]\naround = 12 in\nmust pass = 16 in\n[band one]\nchart = tip-12.chart\n"
               "[try finer]\nover = 4 in\nstitches = 22\nrows = 28\n" YARNS);

    CU_ASSERT_FALSE_FATAL(plan->tries[0].piece.bands[0].stretch->passes);
    says(report_of(&work, plan), "It does not pass 16 in (40.6 cm): it would on 7 repeats, 84 stitches.");
    fixture_end(&work);
}

CU_TestInfo tests_shared[] = {
    {"counts that would do suit all", counts_that_would_do_suit_all},
    {"a border's count suits all that share it", a_border_names_a_count_for_all_that_share_it},
    {"measures in all are all", measures_in_all_are_all},
    {"a count that suits and does not pass", a_count_that_suits_and_does_not_pass},
    {"a count that does not suit", a_count_that_does_not_suit},
    {"a plain part has a count that is taken", a_plain_part_has_a_count_that_is_taken},
    {"an impossible pull says nothing", an_impossible_pull_says_nothing},
    {"an impossible pull says nothing of a snug band", an_impossible_pull_says_nothing_of_a_snug_band},
    {"a try says whether it passes", a_try_says_whether_it_passes},
    CU_TEST_INFO_NULL,
};
