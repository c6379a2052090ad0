/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A piece planned again: with nothing changed it is the piece, and catches are those of the piece only
 * where chart and rules are.
 */
#include <CUnit/Basic.h>
#include <string.h>

#include "run.h"
#include "base/arena.h"
#include "fixture_plan.h"
#include "plan/builder.h"

extern CU_TestInfo tests_variant[];

static const struct plan *plan_of(struct work *work, const char *project)
{
    const struct plan *plan = NULL;

    CU_ASSERT_EQUAL_FATAL(run_plan(work, project, &plan), RUN_DONE);
    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    return plan;
}

/* The bands as they are: every yarn takes the same, use by use, to the last bit. */
static void nothing_changed(void)
{
    static const char *const projects[] = {
        "tests/projects/choices.ini", "tests/projects/unlike-sewn.ini", "tests/projects/ripple.ini",
        "examples/tile-blanket/tile-blanket.ini", "examples/toadstool-hat/toadstool-hat.ini"};

    for (size_t p = 0; p < sizeof projects / sizeof *projects; p++) {
        struct work work = fixture_plan_work();
        const struct plan *plan = plan_of(&work, projects[p]);
        struct plan_piece own = plan->piece, again;
        struct builder builder = {.work = &work, .project = plan->project, .piece = &own};

        CU_ASSERT_TRUE(plan_variant(
            &builder, &(struct variant){.bands = own.bands, .parts = PIECE_YARNS | PIECE_RANGE}, &again, NULL));
        CU_ASSERT_PTR_NOT_EQUAL(again.yarns, own.yarns);
        CU_ASSERT_EQUAL_FATAL(again.nyarns, own.nyarns);
        for (int i = 0; i < own.nyarns; i++) {
            CU_ASSERT_EQUAL(memcmp(again.yarns[i].use_m, own.yarns[i].use_m, sizeof own.yarns[i].use_m), 0);
            CU_ASSERT_EQUAL(again.yarns[i].buy.balls, own.yarns[i].buy.balls);
            CU_ASSERT_EQUAL(again.yarns[i].duplicate_spots, own.yarns[i].duplicate_spots);
        }
        arena_destroy(work.arena);
    }
}

/* In another size the limit leaves as many stitches loose: the same placing stands. At another gauge it stands
 * where it leaves as many too, and nowhere else. */
static void catches_are_placed_once(void)
{
    struct work work = fixture_plan_work();
    const struct plan *plan = plan_of(&work, "tests/projects/sizes.ini");

    for (int i = 0; i < plan->nsizes; i++)
        if (plan->sizes[i].at.fits)
            CU_ASSERT_PTR_EQUAL(plan->sizes[i].at.piece.bands[0].catches, plan->piece.bands[0].catches);
    arena_destroy(work.arena);
    work = fixture_plan_work();
    plan = plan_of(&work, "examples/toadstool-hat/toadstool-hat.ini");
    CU_ASSERT_TRUE(plan->ntries > 0 && plan->tries[0].fits);
    for (int i = 0; i < plan->ntries; i++)
        for (int b = 0; plan->tries[i].fits && b < plan->piece.nbands; b++)
            CU_ASSERT_EQUAL(plan->tries[i].piece.bands[b].catches == plan->piece.bands[b].catches,
                            plan->tries[i].piece.bands[b].leave_sts == plan->piece.bands[b].leave_sts);
    arena_destroy(work.arena);
}

CU_TestInfo tests_variant[] = {
    {"nothing changed", nothing_changed},
    {"catches are placed once", catches_are_placed_once},
    CU_TEST_INFO_NULL,
};
