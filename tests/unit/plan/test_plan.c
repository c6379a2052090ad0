/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The plan end to end on small projects whose numbers were worked by hand.
 */
#include <CUnit/Basic.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "app/disk.h"
#include "base/arena.h"
#include "base/diag.h"
#include "base/tables.h"
#include "run.h"

static struct work work_new(void)
{
    struct work work = {.arena = arena_create((size_t)1 << 30), .outside = &disk};

    work.diagnostics = diagnostics_create(work.arena);
    work.tables = tables_load(&work);
    return work;
}

static const struct plan *plan_of(struct work *work, const char *path)
{
    const struct plan *plan = NULL;

    CU_ASSERT_EQUAL_FATAL(run_plan(work, path, &plan), RUN_DONE);
    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    return plan;
}

static const struct plan_step *step_of(const struct plan *plan, enum step_kind kind, int nth)
{
    for (int i = 0; i < plan->piece.nsteps; i++)
        if (plan->piece.steps[i].kind == kind && nth-- == 0)
            return &plan->piece.steps[i];
    return NULL;
}

/* By hand: 10.25 x 1.02 x 8 = 83.64, so 84 = 7 x 12; 72 + 12 = 84; per repeat, closed ring:
 * cream 101 stitches, 55 float stitches, longest 9, one catch; slate 67, 77, longest 10, three. */
static void ripple_counts(void)
{
    struct work work = work_new();
    const struct plan *plan = plan_of(&work, "tests/projects/ripple.ini");
    const struct plan_band *band = plan->piece.bands;
    const struct plan_colour *cream = &band->colours[0], *slate = &band->colours[1];

    CU_ASSERT_EQUAL(plan->piece.cast_on.stitches, 72);
    CU_ASSERT_EQUAL(band->repeats, 7);
    CU_ASSERT_EQUAL(band->stitches, 84);
    CU_ASSERT_EQUAL(rational_compare(band->target_sts, rational_make(8364, 100)), 0);
    CU_ASSERT_EQUAL(band->leave_sts, 7);
    CU_ASSERT_EQUAL(cream->tally.stitches, 101);
    CU_ASSERT_EQUAL(cream->tally.float_stitches, 55);
    CU_ASSERT_EQUAL(cream->tally.longest_sts, 9);
    CU_ASSERT_EQUAL(cream->catches, 1);
    CU_ASSERT_EQUAL(slate->tally.stitches, 67);
    CU_ASSERT_EQUAL(slate->tally.float_stitches, 77);
    CU_ASSERT_EQUAL(slate->tally.longest_sts, 10);
    CU_ASSERT_EQUAL(slate->catches, 3);
    CU_ASSERT_EQUAL(band->catches->stacked, 0);
    CU_ASSERT_EQUAL(band->catches->doubled, 0);
    CU_ASSERT_EQUAL(plan->piece.catches, 28);
    arena_destroy(work.arena);
}

/* By hand: rib 12 rounds, the increase in the plain round before, 14 rounds of the chart, the
 * decrease in the plain round after. */
static void ripple_steps(void)
{
    struct work work = work_new();
    const struct plan *plan = plan_of(&work, "tests/projects/ripple.ini");
    const struct plan_step *up = step_of(plan, STEP_SHAPE, 0), *down = step_of(plan, STEP_SHAPE, 1);
    const struct plan_step *band = step_of(plan, STEP_BAND, 0), *leg = step_of(plan, STEP_PLAIN, 0);
    const struct plan_step *foot = step_of(plan, STEP_PLAIN, 1);

    CU_ASSERT_PTR_NOT_NULL_FATAL(up);
    CU_ASSERT_PTR_NOT_NULL_FATAL(down);
    CU_ASSERT_PTR_NOT_NULL_FATAL(leg);
    CU_ASSERT_EQUAL(up->first_row, 13);
    CU_ASSERT_STRING_EQUAL(up->shaping.line, "k3, m1, (k6, m1) 11 times, k3");
    CU_ASSERT_EQUAL(band->first_row, 14);
    CU_ASSERT_EQUAL(down->first_row, 28);
    CU_ASSERT_STRING_EQUAL(down->shaping.line, "k3, k2tog, (k5, k2tog) 11 times, k2");
    CU_ASSERT_EQUAL(down->yarn, 0);
    CU_ASSERT_EQUAL(leg->first_row, 29);
    CU_ASSERT_EQUAL(leg->rows, 10);
    CU_ASSERT_EQUAL(leg->stitches, 720);
    CU_ASSERT_PTR_NOT_NULL_FATAL(foot);
    CU_ASSERT_TRUE(foot->counted_otherwise);
    CU_ASSERT_EQUAL(foot->stitches, 9895);
    arena_destroy(work.arena);
}

/* By hand, stitch 0.48 in, slack 1.10, half a stitch width a catch: slate 469 x 0.48 + 539 / 8 x 1.10
 * + 21 / 16 = 300.5 in; cream 707 x 0.48 + 385 / 8 x 1.10 + 7 / 16 = 392.7 in, bands alone. */
static void ripple_yarn(void)
{
    struct work work = work_new();
    const struct plan *plan = plan_of(&work, "tests/projects/ripple.ini");
    const struct plan_yarn *cream = &plan->piece.yarns[0], *slate = &plan->piece.yarns[1];

    CU_ASSERT_EQUAL(slate->stitches, 469);
    CU_ASSERT_EQUAL(slate->float_stitches, 539);
    CU_ASSERT_EQUAL(slate->catches, 21);
    CU_ASSERT_DOUBLE_EQUAL(slate->stitch_m + slate->float_m + slate->catch_m, 300.54 * 0.0254, 0.002);
    CU_ASSERT_EQUAL(cream->stitches, 707);
    /* increase and decrease rounds, 720 of the leg, 9895 of the foot */
    CU_ASSERT_DOUBLE_EQUAL(cream->use_m[USE_PLAIN], (84 + 72 + 720 + 9895) * 0.48 * 0.0254, 0.001);
    CU_ASSERT_DOUBLE_EQUAL(cream->use_m[USE_RIB], 864 * 0.48 * 0.0254, 0.001);
    CU_ASSERT_DOUBLE_EQUAL(cream->stitch_m + cream->float_m + cream->catch_m, 392.74 * 0.0254, 0.002);
    CU_ASSERT_DOUBLE_EQUAL(slate->use_m[USE_TAILS], 2 * 6 * 0.0254, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(slate->length_m,
                           slate->stitch_m + slate->float_m + slate->catch_m + slate->other_m, 1e-9);
    CU_ASSERT_EQUAL(slate->buy.balls, 1);
    CU_ASSERT_DOUBLE_EQUAL(slate->margin, 0.10, 1e-12); /* a measured stitch */
    arena_destroy(work.arena);
}

/* Common practice: at 5 to the inch a float of five is exactly an inch and is left; by "catch at" it is
 * caught. By hand: 26 repeats, 104 and 208 catches. */
static void reeds_limit(void)
{
    struct work work = work_new();
    const struct plan *plan = plan_of(&work, "tests/projects/reeds.ini");

    CU_ASSERT_EQUAL(plan->piece.bands[0].leave_sts, 5);
    CU_ASSERT_EQUAL(plan->piece.catches_fewest, 104);
    CU_ASSERT_EQUAL(plan->piece.catches, 104);
    CU_ASSERT_FALSE(plan->piece.bands[0].has_target);
    CU_ASSERT_EQUAL(plan->piece.loop.method, LOOP_FROM_GAUGE);
    arena_destroy(work.arena);
}

/* By hand: 15.5 x 5.5 = 85.25 wanted; 4 x 20 + 1 + 4 plain = 85, with two edge stitches 87.
 * The whole row of 85, both yarns anchored: ink 492 stitches, 1293 float, longest 19 in the repeat,
 * 161 catches; linen 1378 and 492, 36 catches ("catch at" an inch: six are caught). */
static void seeds_flat(void)
{
    struct work work = work_new();
    const struct plan *plan = plan_of(&work, "tests/projects/seeds.ini");
    const struct plan_band *band = plan->piece.bands;
    const struct plan_colour *linen = &band->colours[0], *ink = &band->colours[1];

    CU_ASSERT_EQUAL(plan->piece.cast_on.stitches, 87);
    CU_ASSERT_EQUAL(band->repeats, 4);
    CU_ASSERT_EQUAL(ink->piece_stitches, 492);
    CU_ASSERT_EQUAL(ink->piece_float_stitches, 1293);
    CU_ASSERT_EQUAL(ink->piece_catches, 161);
    CU_ASSERT_EQUAL(linen->piece_stitches, 1378);
    CU_ASSERT_EQUAL(linen->piece_float_stitches, 492);
    CU_ASSERT_EQUAL(linen->piece_catches, 36);
    CU_ASSERT_EQUAL(ink->tally.longest_sts, 19);
    arena_destroy(work.arena);
}

/* By hand: 40 x 4.5 = 180 = 10 x 18, and 7 for the steek: 187. With rust put on afterwards oat has 242
 * stitches a repeat and floats 118; rust is 18 stitches in one spot a repeat. */
static void steek_counts(void)
{
    struct work work = work_new();
    const struct plan *plan = plan_of(&work, "tests/projects/steek.ini");
    const struct plan_yarn *rust = &plan->piece.yarns[2];

    CU_ASSERT_EQUAL(plan->piece.cast_on.stitches, 187);
    CU_ASSERT_EQUAL(plan->piece.bands[0].ncolours, 2);
    CU_ASSERT_EQUAL(plan->piece.bands[0].colours[0].tally.stitches, 242);
    CU_ASSERT_EQUAL(plan->piece.bands[0].colours[0].tally.float_stitches, 118);
    CU_ASSERT_EQUAL(plan->piece.bands[0].colours[0].piece_stitches, 2420);
    CU_ASSERT_EQUAL(rust->stitches, 0);
    CU_ASSERT_EQUAL(rust->duplicate_stitches, 180);
    CU_ASSERT_EQUAL(rust->duplicate_spots, 10);
    CU_ASSERT_EQUAL(plan->piece.bands[0].rows_three_colours, 0);
    arena_destroy(work.arena);
}

/* By hand: one repeat of ten, flat, reed on two stitches in the middle: as a ring reed floats behind
 * eight, but in the row from edge to edge behind four and four, and at 5 to the inch five are left. */
static void edge_is_no_ring(void)
{
    struct work work = work_new();
    const struct plan *plan = plan_of(&work, "tests/projects/edge.ini");
    const struct plan_colour *reed = &plan->piece.bands[0].colours[1];

    CU_ASSERT_EQUAL(reed->tally.longest_sts, 8); /* one repeat, closed ring */
    CU_ASSERT_EQUAL(reed->tally.over_limit, 1);
    CU_ASSERT_EQUAL(reed->worked.longest_sts, 4);
    CU_ASSERT_EQUAL(reed->worked.floats, 2);
    CU_ASSERT_EQUAL(plan->piece.longest_sts, 4);
    CU_ASSERT_EQUAL(plan->piece.over_limit, 0);
    CU_ASSERT_EQUAL(plan->piece.catches_fewest, 0);
    CU_ASSERT_EQUAL(plan->piece.catches, 0);
    CU_ASSERT_FALSE(plan->piece.too_long);
    /* 7.5 to the inch: seven left, still none too long */
    CU_ASSERT_EQUAL(plan->tries[0].verdict, VERDICT_NONE_LONG);
    /* 3.5 to the inch: three left, four too long: both, one catch each, in each of 12 rows */
    CU_ASSERT_EQUAL(plan->tries[1].verdict, VERDICT_TOO_LONG);
    CU_ASSERT_EQUAL(plan->tries[1].piece.over_limit, 24);
    CU_ASSERT_EQUAL(plan->tries[1].piece.catches_fewest, 24);
    CU_ASSERT_EQUAL(plan->tries[1].piece.catches, 24);
    arena_destroy(work.arena);
}

/* By hand: edge is cast on with, cut, and bound off with: four ends of 6 in. */
static void edge_yarn_tails(void)
{
    struct work work = work_new();
    const struct plan *plan = plan_of(&work, "tests/projects/edge.ini");

    CU_ASSERT_EQUAL(plan->piece.yarns[2].carry.ends, 4);
    CU_ASSERT_DOUBLE_EQUAL(plan->piece.yarns[2].use_m[USE_TAILS], 4 * 6 * 0.0254, 1e-9);
    arena_destroy(work.arena);
}

/* Every number of the table a figure rests on is named; one that only warns is not. */
static void basis_is_named(void)
{
    struct work work = work_new();
    const struct plan *plan = plan_of(&work, "tests/projects/edge.ini");
    bool rows_carried = false, seams = false, warns = false, joins = false;

    for (int i = 0; i < plan->nbasis; i++) {
        rows_carried = rows_carried || strcmp(plan->basis[i]->key, "bind_off_standard_extra_in") == 0;
        joins = joins || strcmp(plan->basis[i]->key, "join_tails") == 0;
        seams = seams || strcmp(plan->basis[i]->key, "seam_lengths") == 0;
        warns = warns || strcmp(plan->basis[i]->key, "close_call_high") == 0;
    }
    CU_ASSERT_TRUE(rows_carried);
    CU_ASSERT_TRUE(joins);
    CU_ASSERT_FALSE(seams);
    CU_ASSERT_FALSE(warns);
    arena_destroy(work.arena);
}

/* 400 stitches to the tenth of an inch round 1000 in would be four million: refused, not planned as one. */
static void plain_part_too_large(void)
{
    struct work work = work_new();
    const struct plan *plan = NULL;
    int n = 0;

    CU_ASSERT_EQUAL(run_plan(&work, "tests/bad/plain-part-too-large.ini", &plan), RUN_MEND);
    CU_ASSERT_PTR_NULL(plan);
    CU_ASSERT_EQUAL(diagnostics_count(work.diagnostics, DIAG_ERROR), 1);
    for (const struct diag *all = diagnostics_sorted(work.diagnostics, &n); n > 0; n--)
        if (diag_code_severity(all[n - 1].code) == DIAG_ERROR)
            CU_ASSERT_EQUAL(all[n - 1].code, DIAG_PLAN_SIZE);
    arena_destroy(work.arena);
}

CU_TestInfo tests_plan[] = {
    {"flat rows are no rings: too long, fewest, verdicts", edge_is_no_ring},
    {"a yarn for cast-on and bind-off alone has its tails", edge_yarn_tails},
    {"the rows of the table it rests on are named", basis_is_named},
    {"a plain part too large is refused", plain_part_too_large},
    {"ripple cuff: counts, floats, catches", ripple_counts},
    {"ripple cuff: steps, shaping, round numbers", ripple_steps},
    {"ripple cuff: yarn of the band", ripple_yarn},
    {"reeds: a float of exactly an inch", reeds_limit},
    {"seed heads, flat: whole row with sides and edges", seeds_flat},
    {"hearthstones: steek and duplicate stitch", steek_counts},
    CU_TEST_INFO_NULL,
};
