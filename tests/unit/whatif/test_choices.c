/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What else could be done with the colours, on a project worked by hand; and the yarn of a swatch.
 */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "run.h"
#include "base/arena.h"
#include "fixture_plan.h"
#include "render/render.h"

extern CU_TestInfo tests_choices[];

static const double inch_m = 0.0254;
static const double near_m = 1e-9, near_h = 1e-9;

static const struct plan *plan_of(struct work *work, const char *path)
{
    const struct plan *plan = NULL;

    CU_ASSERT_EQUAL_FATAL(run_plan(work, path, &plan), RUN_DONE);
    return plan;
}

static const char *report_of(struct work *work, const struct plan *plan)
{
    const struct words_style style = {.width = 80};
    struct text text = text_create(work->arena);

    render_report(work, plan, &style, &text);
    return text.bytes;
}

/* By hand, 8 to the inch, 0.5 in in a stitch, slack 1.10, up to 7 left loose; 4 repeats, 2 pieces.
 * Stranded, a repeat: floats of 7, 6 and 11, one catch: 6 + 24 / 8 x 1.10 + 1 / 16 = 9.3625 in,
 * the berry 0.5 + 11 / 8 x 1.10 + 1 / 16 = 2.075; it then waits a round of 1 / 10 in for the tall one,
 * 0.12 in with the table's 1.2, which it does not where it is sewn on here. Sewn over slate: floats of 7 and 5, no catch:
 * 6 + 12 / 8 x 1.10 = 7.65, and 0.55 + 12 in for the berry. At 600 an hour: stranded 48 x 1.5 +
 * 4 x 1.5 = 78 a piece; sewn 48, and 4 x 2.5 + 4 x 40. */
static void lone_berry(void)
{
    struct work work = fixture_plan_work();
    const struct plan *plan = plan_of(&work, "tests/projects/choices.ini");
    const struct plan_duplicate *lone = &plan->duplicates[0];

    CU_ASSERT_EQUAL_FATAL(plan->nduplicates, 2);
    CU_ASSERT_EQUAL(lone->band, 0);
    CU_ASSERT_STRING_EQUAL(plan->piece.yarns[lone->yarn].name, "berry");
    CU_ASSERT_EQUAL_FATAL(lone->nrows, 1);
    CU_ASSERT_EQUAL(lone->rows[0].row, 1);
    CU_ASSERT_STRING_EQUAL(plan->piece.yarns[lone->rows[0].under].name, "slate");
    CU_ASSERT_TRUE(lone->all_rows);
    CU_ASSERT_EQUAL(lone->stitches, 8);
    CU_ASSERT_EQUAL(lone->spots, 8);
    CU_ASSERT_DOUBLE_EQUAL(lone->stranded.all_m, (8 * 9.3625 + 2 * 0.12) * inch_m, near_m);
    CU_ASSERT_DOUBLE_EQUAL(lone->stranded.own_m, (8 * 2.075 + 2 * 0.12) * inch_m, near_m);
    CU_ASSERT_DOUBLE_EQUAL(lone->stranded_apart.own_m, 2 * 0.12 * inch_m, near_m);
    CU_ASSERT_DOUBLE_EQUAL(lone->sewn_apart.own_m, 8 * 12 * inch_m, near_m);
    CU_ASSERT_DOUBLE_EQUAL(lone->sewn_apart.hours, 8 * 40 / 600.0, near_h);
    CU_ASSERT_DOUBLE_EQUAL(lone->sewn.all_m, 8 * (7.65 + 12.55) * inch_m, near_m);
    CU_ASSERT_DOUBLE_EQUAL(lone->sewn.own_m, 8 * 12.55 * inch_m, near_m);
    CU_ASSERT_EQUAL(lone->stranded.catches, 8);
    CU_ASSERT_EQUAL(lone->sewn.catches, 0);
    CU_ASSERT_EQUAL(lone->stranded.rows_three, 2);
    CU_ASSERT_EQUAL(lone->sewn.rows_three, 0);
    CU_ASSERT_DOUBLE_EQUAL(lone->stranded.hours, 2 * 78 / 600.0, near_h);
    CU_ASSERT_DOUBLE_EQUAL(lone->sewn.hours, 2 * (48 + 10 + 160) / 600.0, near_h);
    /* 28 minutes more, less than half an hour: as she likes, and two rounds in three colours less */
    CU_ASSERT_EQUAL(lone->verdict, DUPLICATE_EITHER);
    CU_ASSERT_TRUE(lone->notable);
    arena_destroy(work.arena);
}

/* By hand: a round of 48 once round. Stranded: floats of 25, 24 and 47 stitches, 3 + 3 + 5 catches;
 * sewn: 25 and 23, 3 + 2. Eight rounds, 2 pieces, one spot each. Stranded 8 x (72 + 16.5) a piece;
 * sewn 8 x (48 + 7.5 + 2.5) + 40. */
static void tall_berry(void)
{
    struct work work = fixture_plan_work();
    const struct plan *plan = plan_of(&work, "tests/projects/choices.ini");
    const struct plan_duplicate *tall = &plan->duplicates[1];

    CU_ASSERT_EQUAL(tall->nrows, 8);
    CU_ASSERT_EQUAL(tall->spots, 2);
    CU_ASSERT_EQUAL(tall->stranded.catches, 2 * 8 * 11);
    CU_ASSERT_EQUAL(tall->saved_catches, 2 * 8 * 6);
    CU_ASSERT_EQUAL(tall->saved_rows_three, 16);
    CU_ASSERT_DOUBLE_EQUAL(tall->stranded.hours, 2 * 708 / 600.0, near_h);
    CU_ASSERT_DOUBLE_EQUAL(tall->sewn.hours, 2 * (464 + 40) / 600.0, near_h);
    CU_ASSERT_EQUAL(tall->verdict, DUPLICATE_SEW);
    CU_ASSERT_EQUAL_FATAL(tall->ngroups, 1); /* all eight alike */
    CU_ASSERT_EQUAL(tall->groups[0].first_row, 0);
    CU_ASSERT_EQUAL(tall->groups[0].last_row, 7);
    CU_ASSERT_EQUAL(tall->groups[0].stitches, 16);
    CU_ASSERT_EQUAL(tall->groups[0].stranded.catches, 2 * 8 * 11);
    /* stitches 24 in, floats 96 / 8 x 1.10, catches 11 / 16; sewn 24, 48 / 8 x 1.10, 5 / 16, and 0.55 a
     * stitch with 12 in once */
    CU_ASSERT_DOUBLE_EQUAL(tall->stranded.all_m, (16 * (24 + 13.2 + 0.6875) + 2 * 0.12) * inch_m, near_m);
    CU_ASSERT_DOUBLE_EQUAL(tall->sewn.all_m, (16 * (24 + 6.6 + 0.3125 + 0.55) + 2 * 12) * inch_m, near_m);
    CU_ASSERT_DOUBLE_EQUAL(tall->saved_m, tall->stranded.all_m - tall->sewn.all_m, near_m);
    arena_destroy(work.arena);
}

/* By hand: both berries at once, so that none is knitted: a start and an end of 6 in and the wait of
 * 0.12 in less in each piece. Of the tall alone only the wait is saved. */
static void all_berries(void)
{
    struct work work = fixture_plan_work();
    const struct plan *plan = plan_of(&work, "tests/projects/choices.ini");
    const struct plan_duplicate *lone = &plan->duplicates[0], *tall = &plan->duplicates[1];
    const struct plan_duplicate *all = plan->duplicate_yarns;

    CU_ASSERT_EQUAL_FATAL(plan->nduplicate_yarns, 1);
    CU_ASSERT_EQUAL(all->band, -1);
    CU_ASSERT_EQUAL(all->yarn, lone->yarn);
    CU_ASSERT_EQUAL(all->spots, 10);
    CU_ASSERT_DOUBLE_EQUAL(all->stranded_apart.own_m, 2 * 12.12 * inch_m, near_m);
    CU_ASSERT_DOUBLE_EQUAL(all->saved_m, lone->saved_m + tall->saved_m + 2 * (12 - 0.12) * inch_m, near_m);
    CU_ASSERT_EQUAL(all->saved_catches, 8 + 2 * 8 * 6);
    CU_ASSERT_DOUBLE_EQUAL(all->saved_hours, lone->saved_hours + tall->saved_hours, near_h);
    CU_ASSERT_TRUE(all->notable); /* of two bands */
    arena_destroy(work.arena);
}

static void said_in_words(void)
{
    struct work work = fixture_plan_work();
    const char *report = report_of(&work, plan_of(&work, "tests/projects/choices.ini"));

    CU_ASSERT_PTR_NOT_NULL(strstr(report, "STRAND IT OR SEW IT ON AFTERWARDS  at 600 stitches an hour\n"));
    CU_ASSERT_PTR_NOT_NULL(strstr(report, "berry in chart round 2 of band lone, 8 stitches in 8 spots"));
    CU_ASSERT_PTR_NOT_NULL(strstr(report, "Sew it on: that saves 96 catches and 16 rounds in three colours"));
    CU_ASSERT_PTR_NOT_NULL(strstr(report, "THE OTHER WAY ROUND  cream and slate of bands lone and tall exchanged"));
    CU_ASSERT_PTR_NOT_NULL(strstr(report, "These two have most stitches there; the other yarns keep their places."));
    CU_ASSERT_PTR_NOT_NULL(strstr(report, "berry in all the bands it may be sewn on in, 24 stitches in 10 spots"));
    CU_ASSERT_PTR_NULL(strstr(report, "waits, tails  ")); /* no rows that differ, no table */
    /* at the head, of both bands: 2 x (78 + 708 - 218 - 504) / 600 h = 13 minutes less */
    CU_ASSERT_PTR_NOT_NULL(strstr(report, "Sewing berry on afterwards would take about as long: as you like"));
    CU_ASSERT_PTR_NOT_NULL(strstr(report, "or of sewing berry on afterwards."));
    report = report_of(&work, plan_of(&work, "examples/tile-blanket/tile-blanket.ini")); /* it is slower */
    CU_ASSERT_PTR_NOT_NULL(strstr(report, "\n    Sewing one of them on afterwards would take longer, green about"));
    CU_ASSERT_PTR_NULL(strstr(report, "STRAND IT OR SEW"));
    report = report_of(&work, plan_of(&work, "tests/projects/ripple.ini"));
    CU_ASSERT_PTR_NULL(strstr(report, "STRAND IT OR SEW"));
    CU_ASSERT_PTR_NULL(strstr(report, "on afterwards would take"));
    CU_ASSERT_PTR_NOT_NULL(strstr(report, "THE OTHER WAY ROUND  the two yarns of band ripple exchanged"));
    arena_destroy(work.arena);
}

/* Rows that differ are said one by one: what stands in the lines adds up to the figures above them. */
static void said_row_by_row(void)
{
    struct work work = fixture_plan_work();
    const struct plan *plan = plan_of(&work, "examples/skep-mittens/skep-mittens.ini");
    const char *report = report_of(&work, plan), *table = strstr(report, "\n    round  stitches");
    long stitches = 0, catches[2] = {0, 0}, three[2] = {0, 0}, minutes[2] = {0, 0};
    double yards[2] = {0, 0};
    int lines = 0;

    CU_ASSERT_PTR_NOT_NULL_FATAL(table);
    for (const char *line = strchr(table + 1, '\n') + 1; strncmp(line, "    waits", 9) != 0;
         line = strchr(line, '\n') + 1, lines++) {
        long one[8];
        double yard[2];

        CU_ASSERT_EQUAL_FATAL(sscanf(line, "%ld %ld %lf yd %lf yd %ld %ld %ld %ld %ld %ld", &one[0], &one[1],
                                     &yard[0], &yard[1], &one[2], &one[3], &one[4], &one[5], &one[6],
                                     &one[7]), 10);
        stitches += one[1];
        for (int way = 0; way < 2; way++) {
            yards[way] += yard[way];
            catches[way] += one[2 + way];
            three[way] += one[4 + way];
            minutes[way] += one[6 + way];
        }
        table = line;
    }
    CU_ASSERT_EQUAL(lines, 3); /* rounds 29, 33 and 36 of the chart */
    CU_ASSERT_EQUAL(stitches, 30);
    CU_ASSERT_EQUAL(catches[0], plan->duplicates[0].stranded.catches);
    CU_ASSERT_EQUAL(catches[1], plan->duplicates[0].sewn.catches);
    CU_ASSERT_EQUAL(three[0], 6);
    CU_ASSERT_EQUAL(three[1], 0);
    {
        double waits[2];
        long ends;

        CU_ASSERT_EQUAL_FATAL(sscanf(strchr(table, '\n'), " waits, tails %lf yd %lf yd . %ld", &waits[0],
                                     &waits[1], &ends), 3);
        CU_ASSERT_DOUBLE_EQUAL((yards[0] + waits[0]) * 0.9144, plan->duplicates[0].stranded.all_m, 0.05);
        CU_ASSERT_DOUBLE_EQUAL((yards[1] + waits[1]) * 0.9144, plan->duplicates[0].sewn.all_m, 0.05);
        CU_ASSERT_DOUBLE_EQUAL((double)minutes[0], 60 * plan->duplicates[0].stranded.hours, 0.51);
        CU_ASSERT_DOUBLE_EQUAL((double)(minutes[1] + ends), 60 * plan->duplicates[0].sewn.hours, 0.51);
    }
    arena_destroy(work.arena);
}

/* By hand, from the cuff worked above by hand: slate 469 stitches and 539 float stitches as charted;
 * exchanged it has cream's 707 and 385, 7 catches in place of 21. Its two ends stay. */
static void ripple_exchanged(void)
{
    struct work work = fixture_plan_work();
    const struct plan *plan = plan_of(&work, "tests/projects/ripple.ini");
    const struct plan_yarn *cream = &plan->exchanged.yarns[0], *slate = &plan->exchanged.yarns[1];

    CU_ASSERT_EQUAL_FATAL(plan->exchanged.nbands, 1);
    CU_ASSERT_EQUAL(slate->stitches, 707);
    CU_ASSERT_EQUAL(slate->float_stitches, 385);
    CU_ASSERT_EQUAL(slate->catches, 7);
    CU_ASSERT_EQUAL(cream->stitches, 469);
    CU_ASSERT_EQUAL(cream->catches, 21);
    CU_ASSERT_DOUBLE_EQUAL(slate->stitch_m + slate->float_m + slate->catch_m, 392.74 * inch_m, 0.002);
    CU_ASSERT_DOUBLE_EQUAL(cream->use_m[USE_RIB], plan->piece.yarns[0].use_m[USE_RIB], near_m);
    CU_ASSERT_DOUBLE_EQUAL(cream->use_m[USE_PLAIN], plan->piece.yarns[0].use_m[USE_PLAIN], near_m);
    arena_destroy(work.arena);
}

/* By hand, one repeat from the charts: lone 12 + 5 + 12 cream, 6 slate, a berry; tall 24 slate, 23 cream, a
 * berry a round. The berry stays as it is: 1 x 4 and 8, of 2 pieces. Exchanged cream has slate's
 * 2 x (4 x 6 + 8 x 24), slate cream's 2 x (4 x 29 + 8 x 23). */
static void three_exchanged(void)
{
    struct work work = fixture_plan_work();
    const struct plan *plan = plan_of(&work, "tests/projects/choices.ini");
    const struct plan_exchanged *exchanged = &plan->exchanged;

    CU_ASSERT_EQUAL_FATAL(exchanged->nbands, 2);
    CU_ASSERT_TRUE(exchanged->one_pair);
    CU_ASSERT_TRUE(exchanged->any_others);
    CU_ASSERT_STRING_EQUAL(plan->piece.yarns[exchanged->bands[0].ground].name, "cream");
    CU_ASSERT_STRING_EQUAL(plan->piece.yarns[exchanged->bands[0].pattern].name, "slate");
    CU_ASSERT_STRING_EQUAL(plan->piece.yarns[exchanged->bands[1].ground].name, "slate");
    CU_ASSERT_EQUAL(exchanged->yarns[0].stitches, 2 * (4 * 6 + 8 * 24));
    CU_ASSERT_EQUAL(exchanged->yarns[1].stitches, 2 * (4 * 29 + 8 * 23));
    CU_ASSERT_EQUAL(exchanged->yarns[2].stitches, 2 * (4 * 1 + 8));
    CU_ASSERT_DOUBLE_EQUAL(exchanged->yarns[2].length_m, plan->piece.yarns[2].length_m, near_m);
    plan = plan_of(&work, "examples/pinewood-yoke/pinewood-yoke.ini"); /* a pair of its own in each band */
    CU_ASSERT_FALSE(plan->exchanged.one_pair);
    arena_destroy(work.arena);
}

/* Where other balls are to be bought it is said of each yarn; where none, that they are the same. */
static void exchanged_balls(void)
{
    struct work work = fixture_plan_work();
    struct plan plan = *plan_of(&work, "tests/projects/ripple.ini");
    struct plan_yarn other[2] = {plan.exchanged.yarns[0], plan.exchanged.yarns[1]};
    const char *report, *same = "The balls to buy are the same.";

    CU_ASSERT_TRUE(plan.exchanged.same_balls);
    CU_ASSERT_PTR_NOT_NULL(strstr(report_of(&work, &plan), same));
    CU_ASSERT_EQUAL_FATAL(plan.piece.yarns[1].buy.balls, 1);
    other[1].buy.balls = 2;
    plan.exchanged.yarns = other;
    plan.exchanged.same_balls = false;
    report = report_of(&work, &plan);
    CU_ASSERT_PTR_NULL(strstr(report, same));
    CU_ASSERT_PTR_NOT_NULL(strstr(report, "\n  Exchanged, slate takes 2 balls, not 1.\n"));
    CU_ASSERT_PTR_NULL(strstr(report, "Exchanged, cream"));
    other[1].buy.balls = 0;
    CU_ASSERT_PTR_NOT_NULL(strstr(report_of(&work, &plan), "\n  Exchanged, slate takes no ball, not 1.\n"));
    arena_destroy(work.arena);
}

/* By hand: 4 in counted and an inch all round are 6 in: 48 x 57 stitches stranded, in the band's
 * shares (300.54 and 392.74 in for 1176 stitches); plain 45 x 60 at 0.48 in, in cream. */
static void swatch_yarn(void)
{
    struct work work = fixture_plan_work();
    const struct plan *plan = plan_of(&work, "tests/projects/ripple.ini");
    const struct plan_yarn *cream = &plan->piece.yarns[0], *slate = &plan->piece.yarns[1];

    CU_ASSERT_DOUBLE_EQUAL(slate->swatch_m, 300.54 * 48 * 57 / 1176 * inch_m, 0.005);
    CU_ASSERT_DOUBLE_EQUAL(cream->swatch_m, (392.74 * 48 * 57 / 1176 + 45 * 60 * 0.48) * inch_m, 0.005);
    CU_ASSERT_DOUBLE_EQUAL(cream->use_m[USE_SWATCH], 0.0, near_m); /* said, not counted */
    CU_ASSERT_DOUBLE_EQUAL(cream->each_m, cream->length_m, near_m);
    CU_ASSERT_PTR_NOT_NULL(
        strstr(report_of(&work, plan), "\n  The two swatches, taken as 6 in (15.2 cm) square each, "));
    CU_ASSERT_EQUAL_FATAL(plan->nswatches, 2);
    CU_ASSERT_TRUE(plan->swatches[1].plain);
    CU_ASSERT_DOUBLE_EQUAL(plan->swatches[0].side_in, 6.0, 1e-9);
    CU_ASSERT_TRUE(plan->swatches[0].taken);
    plan = plan_of(&work, "examples/tile-blanket/tile-blanket.ini"); /* kept */
    for (int i = 0; i < plan->piece.nyarns; i++) {
        const struct plan_yarn *yarn = &plan->piece.yarns[i];

        CU_ASSERT_TRUE(yarn->swatch_m > 1.5);
        CU_ASSERT_DOUBLE_EQUAL(yarn->use_m[USE_SWATCH], yarn->swatch_m, near_m);
        CU_ASSERT_DOUBLE_EQUAL(yarn->each_m, yarn->length_m - yarn->swatch_m, near_m);
    }
    CU_ASSERT_PTR_NOT_NULL(strstr(report_of(&work, plan), " is counted, "));
    plan = plan_of(&work, "tests/projects/choices.ini"); /* a pair */
    CU_ASSERT_DOUBLE_EQUAL(2 * plan->piece.yarns[0].each_m, plan->piece.yarns[0].length_m, near_m);
    arena_destroy(work.arena);
}

/* By hand: cream needs 353.8 yd of balls of 230, one and 0.54 of ten signs; slate 0.08, that is one
 * sign; coral's ball is half as long, five signs, and 0.05 of it still shows. Slate's 12.5, 4.1 and
 * 0.7 of 17.3 yd in 24 signs: 17, 6 and 1. */
static void bars_in_signs(void)
{
    struct work work = fixture_plan_work();
    const char *report = report_of(&work, fixture_ripple(&work));

    CU_ASSERT_PTR_NOT_NULL(strstr(report, "  cream       [##########][#####-----]\n"));
    CU_ASSERT_PTR_NOT_NULL(strstr(report, "  slate       [#---------]\n"));
    CU_ASSERT_PTR_NOT_NULL(strstr(report, "  coral       [#----]\n"));
    CU_ASSERT_PTR_NOT_NULL(strstr(report, "[SSSSSSSSSSSSSSSSSFFFFFFT]\n"));
    CU_ASSERT_PTR_NOT_NULL(strstr(report, "[DDDDDDDDDDDDDDDDDDDDDDDD]\n"));
    arena_destroy(work.arena);
}

CU_TestInfo tests_choices[] = {
    {"a lone berry, both ways", lone_berry},
    {"a tall berry, both ways", tall_berry},
    {"all berries at once", all_berries},
    {"said where it matters", said_in_words},
    {"said row by row", said_row_by_row},
    {"ground and pattern exchanged", ripple_exchanged},
    {"the two of most stitches exchanged", three_exchanged},
    {"balls of the other way round", exchanged_balls},
    {"yarn of the swatch", swatch_yarn},
    {"bars and balls in signs", bars_in_signs},
    CU_TEST_INFO_NULL,
};
