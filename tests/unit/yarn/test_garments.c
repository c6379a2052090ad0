/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Whole garments, planned from gauge alone, against printed yardage. The tables give no sizes and
 * are for buying, so this is a check of the order of size of a whole plan, no more: a part left out,
 * a pair counted once, yards for metres would show, 20 per cent would not.
 */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "run.h"
#include "csv.h"
#include "fixture_project.h"
#include "plan/plan.h"
#include "read/chart/chart.h"

extern CU_TestInfo tests_garments[];

static const double yard_m = 0.9144, to_buy = 1.1; /* 10 % when buying: common practice */

static double yards_of(const struct plan_piece *piece)
{
    double metres = 0;

    for (int i = 0; i < piece->nyarns; i++)
        metres += piece->yarns[i].length_m;
    return metres / yard_m;
}

/* The project, or that of its tries, whose gauge lies within the row's. */
static const struct plan_piece *piece_at(const struct plan *plan, double low, double high)
{
    if (plan->piece.gauge.per_in > low && plan->piece.gauge.per_in < high)
        return &plan->piece;
    for (int i = 0; i < plan->ntries; i++)
        if (plan->tries[i].fits && plan->tries[i].piece.gauge.per_in > low &&
            plan->tries[i].piece.gauge.per_in < high)
            return &plan->tries[i].piece;
    return NULL;
}

/* To buy, within the printed yards. Shown: for the fewest and the most printed. */
static void judge(const struct plan *plan, const char *name, const double row[4], bool within)
{
    const struct plan_piece *piece = piece_at(plan, row[0], row[1]);
    double yards;

    CU_ASSERT_PTR_NOT_NULL_FATAL(piece);
    yards = yards_of(piece);
    printf("\n    %s at %.2f to the inch: %.0f yd, with 10 %% %.0f; %.2f of the fewest, %.2f of the "
           "most printed (%.0f to %.0f)",
           name, piece->gauge.per_in, yards, to_buy * yards, to_buy * yards / row[2],
           to_buy * yards / row[3], row[2], row[3]);
    CU_ASSERT_TRUE(to_buy * yards <= row[3]);
    CU_ASSERT_TRUE(!within || to_buy * yards >= row[2]);
}

static void read_numbers(const struct csv *csv, int first, double row[4])
{
    for (int i = 0; i < 4; i++)
        row[i] = strtod(csv->field[first + i], NULL);
}

static const struct plan *plan_of(struct work *work, const char *path)
{
    const struct plan *plan = NULL;

    CU_ASSERT_EQUAL_FATAL(run_plan(work, path, &plan), RUN_DONE);
    return plan;
}

/* A roomy hat within the table; a close cap, which the table is too generous for, under it. */
static void test_hats(void)
{
    struct work work = fixture_work_with_tables();
    const struct plan *hat = plan_of(&work, "tests/projects/hat.ini");
    const struct plan *cap = plan_of(&work, "tests/projects/cap.ini");
    struct csv csv;
    double row[4];
    int rows = 0;

    CU_ASSERT_TRUE_FATAL(csv_open(&csv, "tests/data/hat_yardage.csv"));
    for (; csv_next(&csv); rows++) {
        read_numbers(&csv, 0, row);
        judge(hat, "roomy hat", row, true);
        judge(cap, "close cap", row, false);
    }
    CU_ASSERT_EQUAL(rows, 6);
    fixture_end(&work);
}

static void test_garments(void)
{
    static const char *const paths[][2] = {
        {"jumper", "tests/projects/jumper.ini"},
        {"socks", "tests/projects/socks.ini"},
        {"mittens", "tests/projects/mittens.ini"},
        {"stranded mittens", "tests/projects/stranded-mittens.ini"},
    };
    struct work work = fixture_work_with_tables();
    struct csv csv;
    double row[4];
    int rows = 0;

    CU_ASSERT_TRUE_FATAL(csv_open(&csv, "tests/data/garment_yardage.csv"));
    for (; csv_next(&csv); rows++) {
        read_numbers(&csv, 1, row);
        for (size_t i = 0; i < sizeof paths / sizeof *paths; i++)
            if (strcmp(csv.field[0], paths[i][0]) == 0)
                judge(plan_of(&work, paths[i][1]), paths[i][0], row, true);
    }
    CU_ASSERT_EQUAL(rows, 9);
    fixture_end(&work);
}

/* --- estimates worked through in print ------------------------------------------------------ */

static double plain_yards(const char *text)
{
    struct work work = fixture_work_with_tables();
    const struct source *source = source_from_text(&work, "tests/projects/plain.ini", text);
    const struct project *project = project_read_source(&work, source);
    const struct chart *charts[2] = {chart_read_band(&work, project, &project->parts[0]), NULL};
    const struct plan *plan;
    double yards;

    CU_ASSERT_FALSE_FATAL(diagnostics_fatal(work.diagnostics));
    plan = plan_build(&work, project, charts);
    CU_ASSERT_PTR_NOT_NULL_FATAL(plan);
    yards = plan->piece.yarns[0].use_m[USE_STITCHES] + plan->piece.yarns[0].use_m[USE_PLAIN];
    fixture_end(&work);
    return yards / yard_m;
}

/* Craft literature (single author, common practice), the arithmetic checked again: a body 40 in round
 * at 5 stitches, 18 in of 7 rows, 45 stitches to the yard: 25,200 stitches, 560 yd. (Another, a piece
 * of 6 by 6 in of 4 g at 87 yd to 50 g, cannot be planned: so little yarn would be about one
 * stitch to the inch.) */
static void test_estimate_in_print(void)
{
    CU_ASSERT_DOUBLE_EQUAL(
        plain_yards("[swatch]\nworked = round\nwashed = yes\nover = 4 in\nstitches = 20, 20\n"
                    "rows = 28, 28\nmarked = 45 stitches took 36 in\n[measure]\naround = 40 in\n"
                    "[band edge]\nchart = plain.chart\n[plain body]\nyarn = ground\nrounds = 125\n"
                    "[yarn ground]\nmark = .\n"),
        560, 1e-6);
}

CU_TestInfo tests_garments[] = {
    {"hats against a printed table", test_hats},
    {"jumpers, socks and mittens", test_garments},
    {"an estimate worked through in print", test_estimate_in_print},
    CU_TEST_INFO_NULL,
};
