/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Munden's constants as printed by Spencer D.J. (2001), Knitting Technology, 3rd ed., pp. 280-281:
 * off the needle Ks 19.0, Kw 3.8; washed and dried flat 21.6, 4.1; washed and tumbled 23.1, 4.2.
 * From one state to another they scatter; a prediction with the middle one may be off by as much.
 */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "csv.h"
#include "model/yarn/loop.h"

extern CU_TestInfo tests_loop[];

enum { RECORDS = 256 };

static const double inch_mm = 25.4;
static const double yard_m = 0.9144;

static const double ks_dry = 19.0, ks_washed = 21.6, ks_full = 23.1;
static const double kw_dry = 3.8, kw_washed = 4.1, kw_full = 4.2;

/* --- the two laws of scale ---------------------------------------------------------- */

/* GATE Textile Engineering 2015, Q54: Kw 4.2, Kc 5.5, loop 5 mm: 92.4 loops in a square cm. */
static void test_examination_question(void)
{
    const double sts_per_mm = 4.2 / 5, rows_per_mm = 5.5 / 5;

    CU_ASSERT_DOUBLE_EQUAL(100 * sts_per_mm * rows_per_mm, 92.4, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(loop_from_density_mm(4.2 * 5.5, 0.924, 1), 5, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(loop_from_density_mm(ks_full, sts_per_mm, rows_per_mm), 5, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(loop_from_width_mm(kw_full, sts_per_mm), 5, 1e-9);
}

struct errors {
    double of[RECORDS];
    int count;
};

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;

    return (x > y) - (x < y);
}

static double share(const struct errors *sorted, double part)
{
    return sorted->of[(int)(part * (sorted->count - 1) + 0.5)];
}

/* The middle of the errors, and all but the outer twentieth at each end, must lie within what
 * the published constants of the three states allow around the middle one. */
static void judge(const char *name, struct errors *errors, double low, double high)
{
    double widest = fmax(-low, high);

    qsort(errors->of, (size_t)errors->count, sizeof errors->of[0], by_size);
    printf("\n    %s: %d settings, error 5 %% %+.1f, 25 %% %+.1f, middle %+.1f, 75 %% %+.1f, "
           "95 %% %+.1f per cent (published states: %+.1f to %+.1f)",
           name, errors->count, 100 * share(errors, 0.05), 100 * share(errors, 0.25),
           100 * share(errors, 0.5), 100 * share(errors, 0.75), 100 * share(errors, 0.95),
           100 * low, 100 * high);
    CU_ASSERT_TRUE(share(errors, 0.5) > low && share(errors, 0.5) < high);
    CU_ASSERT_TRUE(share(errors, 0.05) > -widest && share(errors, 0.95) < widest);
}

static void test_mill_records(void)
{
    struct errors width = {.count = 0}, density = {.count = 0};
    struct csv csv;

    CU_ASSERT_TRUE_FATAL(csv_open(&csv, "tests/data/loop_mill_records.csv"));
    while (csv_next(&csv) && width.count < RECORDS) {
        double recorded_mm = strtod(csv.field[2], NULL);
        double sts_per_mm = strtod(csv.field[3], NULL) / 10;
        double rows_per_mm = strtod(csv.field[4], NULL) / 10;

        width.of[width.count++] = loop_from_width_mm(kw_washed, sts_per_mm) / recorded_mm - 1;
        density.of[density.count++] =
            loop_from_density_mm(ks_washed, sts_per_mm, rows_per_mm) / recorded_mm - 1;
    }
    CU_ASSERT_EQUAL(width.count, 219);
    judge("mill records, 4.1 widths", &width, kw_washed / kw_full - 1, kw_washed / kw_dry - 1);
    judge("mill records, density (partly circular)", &density, sqrt(ks_washed / ks_full) - 1,
          sqrt(ks_washed / ks_dry) - 1);
}

static void test_simulated_loops(void)
{
    struct csv csv;
    int loops = 0;

    CU_ASSERT_TRUE_FATAL(csv_open(&csv, "tests/data/loop_models.csv"));
    while (csv_next(&csv)) {
        double loop = strtod(csv.field[1], NULL);
        double sts = 1 / strtod(csv.field[2], NULL), rows = 1 / strtod(csv.field[3], NULL);
        double density = loop_from_density_mm(ks_washed, sts, rows) / loop - 1;
        double width = loop_from_width_mm(kw_washed, sts) / loop - 1;

        printf("\n    simulated loop %s: density %+.1f, width %+.1f per cent", csv.field[0],
               100 * density, 100 * width);
        CU_ASSERT_TRUE(density > sqrt(ks_washed / ks_full) - 1);
        CU_ASSERT_TRUE(density < sqrt(ks_washed / ks_dry) - 1);
        CU_ASSERT_TRUE(width > kw_washed / kw_full - 1);
        CU_ASSERT_TRUE(width < kw_washed / kw_dry - 1);
        loops++;
    }
    CU_ASSERT_EQUAL(loops, 2);
}

/* Yarn for one and the same hat, from gauge to gauge: l S R of the area, R = 1.3 S as printed for
 * washed fabric. From the middle of the table (4 to 5 to the inch) to every other row, the
 * prediction must stay within the printed range. */
static void test_hats_by_gauge(void)
{
    struct csv csv;
    const double middle_yd = (150 + 250) / 2.0, middle_sts = 4.5;
    double yarn_there = 0;
    int rows = 0;

    CU_ASSERT_TRUE_FATAL(csv_open(&csv, "tests/data/hat_yardage.csv"));
    yarn_there = loop_from_density_mm(ks_washed, middle_sts, 1.3 * middle_sts) * middle_sts *
                 (1.3 * middle_sts);
    while (csv_next(&csv)) {
        double sts = (strtod(csv.field[0], NULL) + strtod(csv.field[1], NULL)) / 2;
        double yarn = loop_from_density_mm(ks_washed, sts, 1.3 * sts) * sts * (1.3 * sts);
        double yards = middle_yd * yarn / yarn_there;

        CU_ASSERT_TRUE(yards >= strtod(csv.field[2], NULL));
        CU_ASSERT_TRUE(yards <= strtod(csv.field[3], NULL));
        rows++;
    }
    CU_ASSERT_EQUAL(rows, 6);
}

/* Hand knitting, from craft literature (single authors): 45 stitches to the yard at 5 stitches
 * and 7 rows to the inch; 18 stitches took at most 8 in at 9 stitches and 10 rows. From gauge
 * alone, 15 % either way is what the estimate claims. */
static void test_hand_knitting(void)
{
    double knitted_in = 36.0 / 45, guess_in = loop_from_density_mm(ks_washed, 5, 7);

    printf("\n    hand knitting, 45 to the yard: %+.1f per cent",
           100 * (guess_in / knitted_in - 1));
    CU_ASSERT_DOUBLE_EQUAL(guess_in / knitted_in, 1, 0.15);
    knitted_in = 8.0 / 18;
    guess_in = loop_from_density_mm(ks_washed, 9, 10);
    printf("\n    hand knitting, 18 in 8 in: density %+.1f, width %+.1f per cent",
           100 * (guess_in / knitted_in - 1),
           100 * (loop_from_width_mm(kw_washed, 9) / knitted_in - 1));
    CU_ASSERT_DOUBLE_EQUAL(guess_in / knitted_in, 1, 0.15);
    CU_ASSERT_DOUBLE_EQUAL(loop_from_width_mm(kw_washed, 9) / knitted_in, 1, 0.15);
}

/* --- thickness of the yarn ---------------------------------------------------------- */

/* Peirce F.T. (1947), Text. Res. J. 17(3): d = 0.0375 sqrt(tex) mm = 1/(28 sqrt(Ne)) in, 1.1 cm^3
 * to the gram. His two figures differ by 0.5 % from each other, being rounded. */
static void test_yarn_diameter(void)
{
    static const double tex[] = {18.456, 100, 385};

    for (int i = 0; i < 3; i++) {
        double d = loop_yarn_diameter_mm(1000 / tex[i], 1 / 1.1);

        CU_ASSERT_DOUBLE_EQUAL(d / (0.0375 * sqrt(tex[i])), 1, 0.005);
        CU_ASSERT_DOUBLE_EQUAL(d / (inch_mm / (28 * sqrt(590.54 / tex[i]))), 1, 0.005);
    }
}

/* Worked by hand: w + 2 h + 5.94 d, d = 1/16 in over the root of yards to the gram (0.55 g/cm^3).
 */
static void test_thickness_by_hand(void)
{
    static const double rows[][4] = {{8, 9.5, 4.6, 0.509},
                                     {5.5, 6.5, 2.62, 0.719},
                                     {5, 6.5, 2, 0.770},
                                     {4.5, 5.5, 1.8, 0.863},
                                     {3.5, 4.5, 1.2, 1.07}};

    CU_ASSERT_DOUBLE_EQUAL(loop_yarn_diameter_mm(4.6 * yard_m, 0.55) / inch_mm, 0.0291, 0.0003);
    for (int i = 0; i < 5; i++) {
        double d = loop_yarn_diameter_mm(rows[i][2] * yard_m, 0.55);
        double loop =
            loop_from_thickness_mm(rows[i][0] / inch_mm, rows[i][1] / inch_mm, d, 1, 2, 5.94);

        CU_ASSERT_DOUBLE_EQUAL(loop / inch_mm, rows[i][3], 0.006);
    }
}

CU_TestInfo tests_loop[] = {
    {"examination question, both ways", test_examination_question},
    {"mill records", test_mill_records},
    {"simulated loops", test_simulated_loops},
    {"hats by gauge", test_hats_by_gauge},
    {"hand knitting", test_hand_knitting},
    {"yarn diameter", test_yarn_diameter},
    {"yarn thickness by hand", test_thickness_by_hand},
    CU_TEST_INFO_NULL,
};
