/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Yarns that knit up differently, measured each by itself: cream takes 0.50 in to a stitch, slate
 * 0.55, berry 0.45. Where two yarns meet in one figure each must bring its own. Sums by hand; the
 * counts are those worked by hand in test_plan.c and test_choices.c. 8 stitches to the inch, strands
 * of 1.10 / 8 in, a catch 1 / 16 in.
 */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "run.h"
#include "base/arena.h"
#include "fixture_plan.h"

extern CU_TestInfo tests_unlike[];

static const double inch_m = 0.0254, near_m = 1e-8;

static const struct plan *plan_of(struct work *work, const char *path)
{
    const struct plan *plan = NULL;

    CU_ASSERT_EQUAL_FATAL(run_plan(work, path, &plan), RUN_DONE);
    CU_ASSERT_TRUE(plan->piece.loop.by_yarn);
    return plan;
}

static void check_in(double metres, double inches)
{
    CU_ASSERT_DOUBLE_EQUAL(metres, inches * inch_m, near_m);
}

/* Cream 707 stitches, 385 behind, 7 catches; slate 469, 539, 21. */
static const double cream_in = 707 * 0.50 + 385 * 0.1375 + 7 / 16.0;
static const double slate_in = 469 * 0.55 + 539 * 0.1375 + 21 / 16.0;

static double band_m(const struct plan_yarn *yarn)
{
    return yarn->stitch_m + yarn->float_m + yarn->catch_m;
}

/* Rib 72 stitches, 12 rounds: 432 knit in slate, 432 purled in cream, each behind the other. Plain:
 * the round of increases and ten of 84. */
static void bands_rib_and_plain(void)
{
    struct work work = fixture_plan_work();
    const struct plan_yarn *yarns = plan_of(&work, "tests/projects/unlike.ini")->piece.yarns;

    CU_ASSERT_DOUBLE_EQUAL(yarns[0].loop_mm, 0.50 * 25.4, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(yarns[1].loop_mm, 0.55 * 25.4, 1e-9);
    check_in(band_m(&yarns[0]), cream_in);
    check_in(band_m(&yarns[1]), slate_in);
    check_in(yarns[0].use_m[USE_RIB], 432 * 0.50 + 432 * 0.1375);
    check_in(yarns[1].use_m[USE_RIB], 432 * 0.55 + 432 * 0.1375);
    check_in(yarns[0].use_m[USE_PLAIN], 0);
    check_in(yarns[1].use_m[USE_PLAIN], 11 * 84 * 0.55);
    arena_destroy(work.arena);
}

/* 4 in counted and an inch all round: 48 by 57 stitches in the shares of the band's 1176. */
static void swatch_kept(void)
{
    struct work work = fixture_plan_work();
    const struct plan_yarn *yarns = plan_of(&work, "tests/projects/unlike.ini")->piece.yarns;

    check_in(yarns[0].use_m[USE_SWATCH], cream_in * 48 * 57 / 1176);
    check_in(yarns[1].use_m[USE_SWATCH], slate_in * 48 * 57 / 1176);
    arena_destroy(work.arena);
}

/* Slate in cream's place, with its own stitch; rib and plain parts as they were. */
static void exchanged(void)
{
    struct work work = fixture_plan_work();
    const struct plan *plan = plan_of(&work, "tests/projects/unlike.ini");
    const struct plan_yarn *own = plan->piece.yarns, *other = plan->exchanged.yarns;

    CU_ASSERT_EQUAL_FATAL(plan->exchanged.nbands, 1);
    check_in(band_m(&other[1]), 707 * 0.55 + 385 * 0.1375 + 7 / 16.0);
    check_in(band_m(&other[0]), 469 * 0.50 + 539 * 0.1375 + 21 / 16.0);
    for (int i = 0; i < 2; i++) {
        CU_ASSERT_DOUBLE_EQUAL(other[i].use_m[USE_RIB], own[i].use_m[USE_RIB], near_m);
        CU_ASSERT_DOUBLE_EQUAL(other[i].use_m[USE_PLAIN], own[i].use_m[USE_PLAIN], near_m);
    }
    check_in(other[1].use_m[USE_SWATCH], (707 * 0.55 + 385 * 0.1375 + 7 / 16.0) * 48 * 57 / 1176);
    arena_destroy(work.arena);
}

/* Band lone, a repeat: 6 slate, 5 cream, 1 berry; 24 behind, one catch. Sewn on over slate: 7 slate, 5
 * cream, 12 behind; the berry lies along slate's stitch, 1.1 of it, and 12 in of ends. Four repeats,
 * two pieces. From the one band to the other it waits a row of 0.1 in, 1.2 times that carried up: not
 * where it is sewn on in one of them. */
static const double waits_in = 2 * 1.2 * 0.1;

static void lone_berry(void)
{
    struct work work = fixture_plan_work();
    const struct plan *plan = plan_of(&work, "tests/projects/unlike-berries.ini");
    const struct plan_duplicate *lone = &plan->duplicates[0];

    CU_ASSERT_EQUAL_FATAL(plan->nduplicates, 2);
    check_in(lone->stranded.own_m, 8 * (0.45 + 11 * 0.1375 + 1 / 16.0) + waits_in);
    check_in(lone->stranded.all_m,
             8 * (6 * 0.55 + 5 * 0.50 + 0.45 + 24 * 0.1375 + 1 / 16.0) + waits_in);
    check_in(lone->sewn.own_m, 8 * (1.1 * 0.55 + 12));
    check_in(lone->sewn.all_m, 8 * (7 * 0.55 + 5 * 0.50 + 12 * 0.1375 + 1.1 * 0.55 + 12));
    arena_destroy(work.arena);
}

/* Band tall, a round: 24 slate, 23 cream, 1 berry; 96 behind, 11 catches, 5 of them the berry's. Sewn
 * on: 25 slate, 48 behind, 5 catches. Eight rounds, one spot, two pieces. */
static void tall_berry(void)
{
    struct work work = fixture_plan_work();
    const struct plan *plan = plan_of(&work, "tests/projects/unlike-berries.ini");
    const struct plan_duplicate *tall = &plan->duplicates[1];

    CU_ASSERT_EQUAL_FATAL(plan->nduplicates, 2);
    check_in(tall->stranded.own_m, 16 * (0.45 + 47 * 0.1375 + 5 / 16.0) + waits_in);
    check_in(tall->stranded.all_m,
             16 * (24 * 0.55 + 23 * 0.50 + 0.45 + 96 * 0.1375 + 11 / 16.0) + waits_in);
    check_in(tall->sewn.own_m, 16 * 1.1 * 0.55 + 2 * 12);
    check_in(tall->sewn.all_m,
             16 * (25 * 0.55 + 23 * 0.50 + 48 * 0.1375 + 5 / 16.0 + 1.1 * 0.55) + 2 * 12);
    CU_ASSERT_DOUBLE_EQUAL(tall->saved_m, tall->stranded.all_m - tall->sewn.all_m, near_m);
    arena_destroy(work.arena);
}

/* Eight berries sewn on over slate; exchanged, it is cream that lies under them. */
static void sewn_on_exchanged(void)
{
    struct work work = fixture_plan_work();
    const struct plan *plan = plan_of(&work, "tests/projects/unlike-sewn.ini");

    CU_ASSERT_EQUAL_FATAL(plan->exchanged.nbands, 1);
    check_in(plan->piece.yarns[2].use_m[USE_DUPLICATE], 8 * (1.1 * 0.55 + 12));
    check_in(plan->exchanged.yarns[2].use_m[USE_DUPLICATE], 8 * (1.1 * 0.50 + 12));
    arena_destroy(work.arena);
}

CU_TestInfo tests_unlike[] = {
    {"bands, rib and plain parts", bands_rib_and_plain},
    {"the swatch that is kept", swatch_kept},
    {"ground and pattern exchanged", exchanged},
    {"a lone berry, both ways", lone_berry},
    {"a tall berry, both ways", tall_berry},
    {"sewn on, and exchanged", sewn_on_exchanged},
    CU_TEST_INFO_NULL,
};
