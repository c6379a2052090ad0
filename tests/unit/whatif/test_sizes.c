/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One project in several sizes. Counts worked by hand; the size of the plan itself against the plan.
 */
#include <CUnit/Basic.h>
#include <math.h>

#include "run.h"
#include "base/arena.h"
#include "fixture_plan.h"

static const struct plan *plan_of(struct work *work, const char *project)
{
    const struct plan *plan = NULL;

    CU_ASSERT_EQUAL_FATAL(run_plan(work, project, &plan), RUN_DONE);
    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    return plan;
}

/* By hand, ease 2 %, 8 to the inch: 8 in 65.28, so 60; 9 1/4 in 75.48, so 72; 12 in 97.92, so 96. Rib in
 * fours of 72 for 10 1/4: 56.2, 65.0 and 84.3, so 56, 64 and 84. The heel 12 1/4 for 10 1/4 is 9.56 for
 * 8. Four catches a repeat. Foot 9895 stitches for 10 1/4: 7723 for 8. */
static void by_hand(void)
{
    static const struct {
        double measure_in;
        int repeats, cast_on;
    } hand[] = {{8, 5, 56}, {9.25, 6, 64}, {10.25, 7, 72}, {12, 8, 84}};
    struct work work = fixture_plan_work();
    const struct plan *plan = plan_of(&work, "tests/projects/sizes.ini");

    CU_ASSERT_EQUAL_FATAL(plan->nsizes, 5);
    for (int i = 0; i < 4; i++) {
        const struct plan_piece *piece = &plan->sizes[i].at.piece;

        CU_ASSERT_TRUE_FATAL(plan->sizes[i].at.fits);
        CU_ASSERT_DOUBLE_EQUAL(plan->sizes[i].measure_in, hand[i].measure_in, 1e-12);
        CU_ASSERT_EQUAL(piece->bands[0].repeats, hand[i].repeats);
        CU_ASSERT_EQUAL(piece->cast_on.stitches, hand[i].cast_on);
        CU_ASSERT_EQUAL(piece->catches, 4 * hand[i].repeats);
        CU_ASSERT_EQUAL(plan->sizes[i].own, i == 2);
    }
    CU_ASSERT_STRING_EQUAL(plan->sizes[2].at.name, "age 4");
    CU_ASSERT_DOUBLE_EQUAL(plan->sizes[0].at.piece.bands[0].stretch->must_in, 12.25 * 8 / 10.25, 1e-9);
    for (int i = 0; i < plan->sizes[0].at.piece.nsteps; i++)
        if (plan->sizes[0].at.piece.steps[i].counted_otherwise)
            CU_ASSERT_EQUAL(plan->sizes[0].at.piece.steps[i].stitches, 7723);
    CU_ASSERT_FALSE(plan->sizes[4].at.fits); /* one repeat is 1 1/2 in */
    CU_ASSERT_PTR_NOT_NULL(plan->sizes[4].at.why);
    arena_destroy(work.arena);
}

/* The size the plan is for is the plan: stitches, catches and yarn, to the last ball. */
static void own_size_is_the_plan(void)
{
    static const char *const projects[] = {"tests/projects/sizes.ini",
                                           "examples/barley-socks/barley-socks.ini"};

    for (int p = 0; p < 2; p++) {
        struct work work = fixture_plan_work();
        const struct plan *plan = plan_of(&work, projects[p]);
        int found = 0;

        for (int i = 0; i < plan->nsizes; i++) {
            const struct plan_piece *piece = &plan->sizes[i].at.piece;

            if (!plan->sizes[i].own)
                continue;
            found++;
            CU_ASSERT_EQUAL(piece->cast_on.stitches, plan->piece.cast_on.stitches);
            CU_ASSERT_EQUAL(piece->catches, plan->piece.catches);
            CU_ASSERT_EQUAL(piece->nsteps, plan->piece.nsteps);
            for (int y = 0; y < piece->nyarns; y++) {
                CU_ASSERT_DOUBLE_EQUAL(piece->yarns[y].length_m, plan->piece.yarns[y].length_m, 1e-9);
                CU_ASSERT_EQUAL(piece->yarns[y].buy.balls, plan->piece.yarns[y].buy.balls);
                CU_ASSERT_DOUBLE_EQUAL(piece->yarns[y].likely.high_m, plan->piece.yarns[y].likely.high_m,
                                       1e-9); /* as sure of it, too */
            }
        }
        CU_ASSERT_EQUAL(found, 1);
        arena_destroy(work.arena);
    }
}

/* By hand, 8 to the inch in twelves: 82 is nearest 84, 84 is 84, 96 is 96. */
static void on_the_same_stitches(void)
{
    struct work work = fixture_plan_work();
    const struct plan *plan = plan_of(&work, "tests/projects/sizes-alike.ini");

    CU_ASSERT_EQUAL_FATAL(plan->nsizes, 3);
    CU_ASSERT_EQUAL(plan->sizes[0].same_as, -1);
    CU_ASSERT_EQUAL(plan->sizes[1].same_as, 0);
    CU_ASSERT_EQUAL(plan->sizes[2].same_as, -1);
    arena_destroy(work.arena);
}

CU_TestInfo tests_sizes[] = {
    {"five sizes worked by hand", by_hand},
    {"the size of the plan is the plan", own_size_is_the_plan},
    {"two sizes on the same stitches", on_the_same_stitches},
    CU_TEST_INFO_NULL,
};
