/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The fit against equations solved in this file without any library: the normal equations of
 * two unknowns by Cramer's rule, with the errors that lengths share written out as a covariance.
 */
#include <CUnit/CUnit.h>
#include <math.h>

#include "model/yarn/loop.h"

extern CU_TestInfo tests_loop_fit[];

static const double inch_mm = 25.4;
static const double width_mm = 25.4 / 8;

static const struct loop_fit_errors plain_errors = {
    .slack = 1.10, .slack_sd = 0.0608, .slack_told_sd = 0.152};

static struct loop_observation length(double stitches, double floats, double inches, double sd_mm)
{
    return (struct loop_observation){.stitches = stitches,
                                     .float_mm = floats * width_mm,
                                     .length_mm = inches * inch_mm,
                                     .sd_mm = sd_mm,
                                     .by_tape = true};
}

/* --- worked by hand ----------------------------------------------------------------- */

/* 40 stitches at 8 to the inch, 28 took 15 1/8 in and 12 took 9 5/8 in:
 * 28 l + 1.5 s = 15.125, 12 l + 3.5 s = 9.625, determinant 80: l = 38.5 / 80, s = 88 / 80. */
static void test_one_row_by_hand(void)
{
    const struct loop_observation row[] = {length(28, 12, 15.125, 2.1), length(12, 28, 9.625, 1.4)};
    struct loop_fit_errors errors = plain_errors;
    struct loop_fit fit;

    errors.pull_sd = 0.0122;
    CU_ASSERT_EQUAL(loop_fit_solve(row, 2, 1, &errors, &fit), 0);
    CU_ASSERT_DOUBLE_EQUAL(fit.loop_mm[0] / inch_mm, 38.5 / 80, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(fit.slack, 1.10, 1e-9);
    CU_ASSERT_TRUE(fit.slack_told);
    CU_ASSERT_EQUAL(fit.freedom, 0);
    CU_ASSERT_TRUE(isnan(fit.chance) && fit.worst == -1);
}

/* Lengths made from a known stitch and slack come back to them, whichever yarn has the more. The other
 * way by Cramer's rule: determinant a^2 - b^2 of a l + b w s, b l + a w s. */
static void test_one_row_there_and_back(void)
{
    const double loop = 12.385;
    struct loop_fit_errors errors = plain_errors;
    struct loop_fit fit;

    errors.slack_told_sd = 1e3;
    for (int a = 1; a < 24; a++)
        for (double slack = 0.7; slack < 2; slack += 0.145) {
            int b = 24 - a;
            struct loop_observation row[] = {length(a, b, 0, 1.715), length(b, a, 0, 1.385)};
            double determinant = 24.0 * (a - b);

            row[0].length_mm = a * loop + b * width_mm * slack;
            row[1].length_mm = b * loop + a * width_mm * slack;
            CU_ASSERT_EQUAL(loop_fit_solve(row, 2, 1, &errors, &fit), a == 12);
            if (a == 12) /* one equation twice: the slack is not told */
                continue;
            CU_ASSERT_DOUBLE_EQUAL(fit.loop_mm[0], loop, 1e-9);
            CU_ASSERT_DOUBLE_EQUAL(fit.slack, slack, 1e-9);
            CU_ASSERT_DOUBLE_EQUAL(
                fit.loop_mm[0], (a * row[0].length_mm - b * row[1].length_mm) / determinant, 1e-9);
            CU_ASSERT_DOUBLE_EQUAL(
                fit.slack * width_mm, (a * row[1].length_mm - b * row[0].length_mm) / determinant, 1e-9);
        }
}

static void check_parts(const struct loop_fit *fit, double l_in, double s, double var_l,
                        double var_s, double cov)
{
    CU_ASSERT_DOUBLE_EQUAL(fit->loop_mm[0] / inch_mm, l_in, 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(fit->slack, s, 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(fit->covariance[0][0] * l_in * l_in, var_l, 1e-14);
    CU_ASSERT_DOUBLE_EQUAL(fit->covariance[LOOP_FIT_SLACK][LOOP_FIT_SLACK] * s * s, var_s, 1e-14);
    CU_ASSERT_DOUBLE_EQUAL(fit->covariance[0][LOOP_FIT_SLACK] * l_in * s, cov, 1e-14);
}

/* The same row, each length to 1/10 in. The inverse of (28, 3/2; 12, 7/2) is
 * (7/2, -3/2; -12, 28) / 80, its rows times themselves and each other 29/2, 928, -84, over 6400. */
static void test_two_in_fractions(void)
{
    const struct loop_observation row[] = {length(28, 12, 15.125, inch_mm / 10),
                                           length(12, 28, 9.625, inch_mm / 10)};
    struct loop_fit fit;

    CU_ASSERT_EQUAL(loop_fit_solve(row, 2, 1, &plain_errors, &fit), 0);
    check_parts(&fit, 77 / 160.0, 11 / 10.0, 29 / 1280000.0, 928 / 640000.0, -84 / 640000.0);
}

/* Three lengths for two unknowns, the third to 1/20 in and so of four times the weight:
 * 24 l + s = 13, 8 l + 3 s = 15/2, 40 l = 20. Normal equations 7040 l + 48 s = 3572 and
 * 48 l + 10 s = 71/2, determinant 68096: l = 1063/2128, s = 613/532. Left over -300, 100 and 40 of
 * 2128 parts of an inch: chi-square (100 x 100000 + 400 x 1600) / 2128^2 = 625/266. */
static void test_three_in_fractions(void)
{
    const struct loop_observation all[] = {length(24, 8, 13, inch_mm / 10),
                                           length(8, 24, 7.5, inch_mm / 10),
                                           length(40, 0, 20, inch_mm / 20)};
    struct loop_fit fit;

    CU_ASSERT_EQUAL(loop_fit_solve(all, 3, 1, &plain_errors, &fit), 0);
    check_parts(&fit, 1063 / 2128.0, 613 / 532.0, 10 / 6809600.0, 7040 / 6809600.0,
                -48 / 6809600.0);
    CU_ASSERT_DOUBLE_EQUAL(fit.chi_square, 625 / 266.0, 1e-10);
    CU_ASSERT_EQUAL(fit.freedom, 1);
}

/* On a scale of whole grams, 6 to 7 g: 0.43 to 0.52 in. Plain, no strand: 1093 in over 1760. A swatch
 * of 1.4 g has nothing left for the stitch. */
static void test_weights_by_hand(void)
{
    static const struct {
        double grams, floats, loop_in, near_in;
    } cases[] = {{6, 1760, 0.43, 0.005}, {7, 1760, 0.52, 0.0055}, {6.6, 0, 0.621, 0.0005}};
    struct loop_observation swatch;
    struct loop_fit fit;

    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        swatch = length(1760, cases[i].floats, cases[i].grams * 230 / 50 * 36, 120);
        CU_ASSERT_EQUAL(loop_fit_solve(&swatch, 1, 1, &plain_errors, &fit), 1);
        CU_ASSERT_DOUBLE_EQUAL(fit.loop_mm[0] / inch_mm, cases[i].loop_in, cases[i].near_in);
    }
    swatch = length(1760, 1760, 1.4 * 230 / 50 * 36, 120);
    CU_ASSERT_EQUAL(loop_fit_solve(&swatch, 1, 1, &plain_errors, &fit), -2);
}

/* 40 x 44 stitches, 6.6 g at 230 yd to 50 g are 1093 in; 0.621 less a strand of 0.1375: 0.4835. */
static void test_weight_by_hand(void)
{
    const double yarn_in = 6.6 * 230 / 50 * 36;
    struct loop_observation swatch = length(1760, 1760, yarn_in, 120);
    struct loop_fit_errors errors = plain_errors;
    struct loop_fit fit;
    double l_in = yarn_in / 1760 - 0.1375, by_slack_in = 0.125 * 0.0608, own_in;

    swatch.by_tape = false;
    swatch.by_scale = true;
    errors.ball_sd = 0.0243;
    CU_ASSERT_EQUAL(loop_fit_solve(&swatch, 1, 1, &errors, &fit), 1);
    CU_ASSERT_DOUBLE_EQUAL(fit.loop_mm[0] / inch_mm, 0.4835, 0.0005);
    CU_ASSERT_FALSE(fit.slack_told);
    CU_ASSERT_DOUBLE_EQUAL(fit.slack, 1.10, 1e-12);
    /* By hand: the scale, the ball and the slack are three errors of one length. */
    own_in = hypot(120 / inch_mm / 1760, 0.0243 * yarn_in / 1760);
    CU_ASSERT_DOUBLE_EQUAL(sqrt(fit.covariance[0][0]), hypot(own_in, by_slack_in) / l_in, 1e-6);
    CU_ASSERT_DOUBLE_EQUAL(fit.covariance[0][LOOP_FIT_SLACK],
                           -by_slack_in * 0.0608 / (l_in * 1.10), 1e-9);
    /* A longer ball is a longer stitch: 0.621 of it for 0.4835. */
    CU_ASSERT_DOUBLE_EQUAL(fit.covariance[0][LOOP_FIT_BALL],
                           0.0243 * 0.0243 * yarn_in / 1760 / l_in, 1e-9);
}

/* --- normal equations, two unknowns, by Cramer's rule -------------------------------------- */

enum { FEW = 6 };

struct two {
    double l, s, var_l, var_s, cov;
    double chi_square;
};

/* Weighted least squares of n l + f s = y with covariance diag(sd^2) + pull^2 y y': its inverse
 * by the rule of Sherman and Morrison. */
static struct two two_unknowns(const struct loop_observation *all, int count, double pull)
{
    double inverse[FEW][FEW], sum = 0, m[2][2] = {{0}}, r[2] = {0}, det;
    struct two out;

    for (int i = 0; i < count; i++)
        sum += pow(pull * all[i].length_mm / all[i].sd_mm, 2);
    for (int i = 0; i < count; i++)
        for (int j = 0; j < count; j++)
            inverse[i][j] = (i == j) / pow(all[i].sd_mm, 2) -
                            pull * pull * all[i].length_mm * all[j].length_mm /
                                pow(all[i].sd_mm * all[j].sd_mm, 2) / (1 + sum);
    for (int i = 0; i < count; i++)
        for (int j = 0; j < count; j++) {
            const double a[2] = {all[i].stitches, all[i].float_mm};
            const double b[2] = {all[j].stitches, all[j].float_mm};

            for (int p = 0; p < 2; p++) {
                r[p] += a[p] * inverse[i][j] * all[j].length_mm;
                for (int q = 0; q < 2; q++)
                    m[p][q] += a[p] * inverse[i][j] * b[q];
            }
        }
    det = m[0][0] * m[1][1] - m[0][1] * m[1][0];
    out.l = (r[0] * m[1][1] - m[0][1] * r[1]) / det;
    out.s = (m[0][0] * r[1] - m[1][0] * r[0]) / det;
    out.var_l = m[1][1] / det;
    out.var_s = m[0][0] / det;
    out.cov = -m[0][1] / det;
    out.chi_square = 0;
    for (int i = 0; i < count; i++)
        for (int j = 0; j < count; j++)
            out.chi_square +=
                (all[i].length_mm - all[i].stitches * out.l - all[i].float_mm * out.s) *
                inverse[i][j] *
                (all[j].length_mm - all[j].stitches * out.l - all[j].float_mm * out.s);
    return out;
}

static void check_two(const struct loop_observation *all, int count, double pull)
{
    struct loop_fit_errors errors = plain_errors;
    struct two expected = two_unknowns(all, count, pull);
    struct loop_fit fit;

    errors.pull_sd = pull;
    CU_ASSERT_EQUAL(loop_fit_solve(all, count, 1, &errors, &fit), 0);
    CU_ASSERT_DOUBLE_EQUAL(fit.loop_mm[0], expected.l, 1e-8);
    CU_ASSERT_DOUBLE_EQUAL(fit.slack, expected.s, 1e-8);
    CU_ASSERT_DOUBLE_EQUAL(fit.covariance[0][0] * expected.l * expected.l / expected.var_l, 1, 1e-8);
    CU_ASSERT_DOUBLE_EQUAL(fit.covariance[LOOP_FIT_SLACK][LOOP_FIT_SLACK] * expected.s *
                               expected.s / expected.var_s,
                           1, 1e-8);
    CU_ASSERT_DOUBLE_EQUAL(fit.covariance[0][LOOP_FIT_SLACK] * expected.l * expected.s,
                           expected.cov, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(fit.chi_square, expected.chi_square, 1e-7);
    CU_ASSERT_EQUAL(fit.freedom, count - 2);
}

static void test_normal_equations(void)
{
    const struct loop_observation all[FEW] = {
        length(28, 12, 15.125, 2.1), length(12, 28, 9.625, 1.4),  length(40, 0, 19.5, 3.05),
        length(33, 7, 16.75, 2.385), length(7, 33, 8.125, 1.715), length(75, 0, 36, 6.3)};

    check_two(all, 2, 0);
    check_two(all, 3, 0);
    check_two(all, FEW, 0);
    check_two(all, 2, 0.0122);
    check_two(all, 3, 0.0122);
    check_two(all, FEW, 0.0122);
    check_two(all, FEW, 0.0385);
}

/* Two plain rows of one group and two of another: each its own mean, weighted by 1 / sd^2. */
static void test_groups(void)
{
    struct loop_observation all[] = {length(40, 0, 19.25, 3), length(40, 0, 19.75, 1.5),
                                     length(36, 0, 18.5, 2.385), length(50, 0, 25.25, 2.715)};
    struct loop_fit fit;
    double first = (19.25 / 9 + 19.75 / 2.25) / (1 / 9.0 + 1 / 2.25) / 40 * inch_mm;

    all[2].group = all[3].group = 4;
    CU_ASSERT_EQUAL(loop_fit_solve(all, 4, 5, &plain_errors, &fit), 1);
    CU_ASSERT_DOUBLE_EQUAL(fit.loop_mm[0], first, 1e-8);
    CU_ASSERT_DOUBLE_EQUAL(fit.loop_mm[4], 0.507 * inch_mm, 0.15);
    CU_ASSERT_TRUE(isnan(fit.loop_mm[1]) && isnan(fit.loop_mm[3]));
    CU_ASSERT_EQUAL(fit.freedom, 2);
    CU_ASSERT_DOUBLE_EQUAL(fit.covariance[0][4], 0, 1e-15);
}

/* By counting: n yarns each with a stitch of their own are n unknowns for one, so n - 1 more; n where a
 * length that names no yarn, or a yarn for which no group is left, keeps the one. Groups 2 to 9 are
 * there for 8 yarns. Plain lengths (group 1) stay. */
static void test_split_by_yarn(void)
{
    static const struct {
        int yarns, unnamed, more, own;
    } cases[] = {{2, 0, 1, 2}, {2, 1, 2, 2}, {8, 0, 7, 8}, {8, 2, 8, 8}, {9, 0, 8, 8}, {11, 1, 8, 8}};

    for (size_t c = 0; c < sizeof cases / sizeof *cases; c++) {
        struct loop_observation list[32];
        int yarn[32], group_of[12], n = 0, ngroups, more;

        for (int i = 0; i < 2 * cases[c].yarns; i++) {
            list[n] = length(40, 0, 20, 3);
            yarn[n++] = i % cases[c].yarns;
        }
        for (int i = 0; i < cases[c].unnamed; i++) {
            list[n] = length(40, 0, 20, 3);
            yarn[n++] = -1;
        }
        list[n] = length(40, 0, 20, 3);
        list[n].group = 1;
        yarn[n++] = 0;
        more = loop_fit_split(list, yarn, n, 2, group_of, 12, &ngroups);
        CU_ASSERT_EQUAL(more, cases[c].more);
        CU_ASSERT_EQUAL(ngroups, 2 + cases[c].own);
        CU_ASSERT_EQUAL(list[n - 1].group, 1);
        for (int i = 0; i < 2 * cases[c].yarns; i++)
            CU_ASSERT_EQUAL(list[i].group, yarn[i] < 8 ? 2 + yarn[i] : 0);
        for (int y = 0; y < 12; y++)
            CU_ASSERT_EQUAL(group_of[y], y < cases[c].own ? 2 + y : -1);
    }
}

/* --- what cannot be told, and what cannot be ------------------------------------------------ */

static void test_slack_not_told(void)
{
    const struct loop_observation even[] = {length(20, 20, 12.2, 1.4), length(20, 20, 12.6, 1.4)};
    const struct loop_observation nearly[] = {length(21, 19, 12.5, 1.4), length(19, 21, 12.1, 1.4)};
    struct loop_fit fit;

    CU_ASSERT_EQUAL(loop_fit_solve(even, 2, 1, &plain_errors, &fit), 1);
    /* By hand: 12.4 in less 20 floats of 0.1375 in, over 20. */
    CU_ASSERT_DOUBLE_EQUAL(fit.loop_mm[0] / inch_mm, 0.4825, 1e-9);
    CU_ASSERT_EQUAL(loop_fit_solve(nearly, 2, 1, &plain_errors, &fit), 1);
    CU_ASSERT_DOUBLE_EQUAL(fit.slack, 1.10, 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(fit.covariance[LOOP_FIT_SLACK][LOOP_FIT_SLACK],
                           pow(0.0608 / 1.10, 2), 1e-12);
}

static void test_given_slack_is_hers(void)
{
    const struct loop_observation row[] = {length(28, 12, 15.125, 2.1), length(12, 28, 9.625, 1.4)};
    struct loop_fit_errors errors = plain_errors;
    struct loop_fit fit;

    errors.slack = 1.18;
    errors.slack_given = true;
    CU_ASSERT_EQUAL(loop_fit_solve(row, 2, 1, &errors, &fit), 0);
    CU_ASSERT_DOUBLE_EQUAL(fit.loop_mm[0] / inch_mm, 38.5 / 80, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(fit.slack, 1.18, 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(fit.covariance[0][LOOP_FIT_SLACK], 0, 1e-15);
}

static void test_refused(void)
{
    const struct loop_observation turned[] = {length(28, 12, 4.5, 1.4), length(12, 28, 15.125, 1.4)};
    struct loop_observation odd = length(28, 12, 15.125, 2.1);
    struct loop_fit fit;

    /* By hand: l = (28 x 4.5 - 12 x 15.125) / 640 is under 0. */
    CU_ASSERT_EQUAL(loop_fit_solve(turned, 2, 1, &plain_errors, &fit), -2);
    CU_ASSERT_TRUE(fit.loop_mm[0] < 0);
    CU_ASSERT_EQUAL(loop_fit_solve(turned, 0, 1, &plain_errors, &fit), -1);
    CU_ASSERT_EQUAL(loop_fit_solve(turned, 2, LOOP_FIT_GROUPS_MAX + 1, &plain_errors, &fit), -1);
    odd.length_mm = (double)NAN;
    CU_ASSERT_EQUAL(loop_fit_solve(&odd, 1, 1, &plain_errors, &fit), -1);
    odd = length(0, 12, 15.125, 2.1);
    CU_ASSERT_EQUAL(loop_fit_solve(&odd, 1, 1, &plain_errors, &fit), -1);
    odd = length(28, 12, 15.125, 0);
    CU_ASSERT_EQUAL(loop_fit_solve(&odd, 1, 1, &plain_errors, &fit), -1);
    odd = length(28, 12, 15.125, 2.1);
    odd.group = 1;
    CU_ASSERT_EQUAL(loop_fit_solve(&odd, 1, 1, &plain_errors, &fit), -1);
    CU_ASSERT_TRUE(isnan(fit.loop_mm[0]) && isnan(fit.slack));
}

/* Plain rows of 19.25, 19.25, 19.25 and 22 in: chi-square by hand; the last is the odd one out. */
static void test_contradiction(void)
{
    const struct loop_observation all[] = {length(40, 0, 19.25, 5), length(40, 0, 19.25, 5),
                                           length(40, 0, 19.25, 5), length(40, 0, 22, 5)};
    const double mean = (3 * 19.25 + 22) / 4;
    const double chi = (3 * pow(19.25 - mean, 2) + pow(22 - mean, 2)) * pow(inch_mm / 5, 2);
    struct loop_fit fit;
    double before;

    CU_ASSERT_EQUAL(loop_fit_solve(all, 4, 1, &plain_errors, &fit), 1);
    CU_ASSERT_DOUBLE_EQUAL(fit.chi_square, chi, 1e-6);
    CU_ASSERT_EQUAL(fit.freedom, 3);
    CU_ASSERT_EQUAL(fit.worst, 3);
    CU_ASSERT_DOUBLE_EQUAL(fit.worst_off_mm, (22 - 19.25) * inch_mm, 1e-6); /* as the others say */
    CU_ASSERT_FALSE(fit.kinds_told);
    CU_ASSERT_TRUE(fit.chance < 1e-5);
    before = fit.covariance[0][0];
    CU_ASSERT_DOUBLE_EQUAL(loop_fit_excess(&fit), chi / 3, 1e-6);
    loop_fit_widen(&fit, 2.385);
    CU_ASSERT_DOUBLE_EQUAL(fit.covariance[0][0] / before, 2.385, 1e-9);
}

/* The one named is that without which chi-square falls most, and how far it is off is what the fit of
 * the others leads one to expect: each left out in turn. */
static void test_worst_by_leaving_out(void)
{
    struct loop_observation all[FEW] = {
        length(28, 12, 15.125, 2.1), length(12, 28, 9.625, 1.4),   length(40, 0, 19.5, 3.05),
        length(33, 7, 16.75, 2.385), length(7, 33, 8.125, 1.715), length(75, 0, 36, 6.3)};

    for (int out = 0; out < FEW; out++) {
        struct loop_observation slip[FEW], rest[FEW];
        struct loop_fit fit, others;
        double most = 0, off_mm = 0;
        int named = -1;

        for (int i = 0; i < FEW; i++)
            slip[i] = all[i];
        slip[out].length_mm *= 1.15;
        CU_ASSERT_EQUAL(loop_fit_solve(slip, FEW, 1, &plain_errors, &fit), 0);
        for (int i = 0; i < FEW; i++) {
            int n = 0;

            for (int k = 0; k < FEW; k++)
                if (k != i)
                    rest[n++] = slip[k];
            CU_ASSERT_EQUAL(loop_fit_solve(rest, n, 1, &plain_errors, &others), 0);
            if (fit.chi_square - others.chi_square <= most)
                continue;
            most = fit.chi_square - others.chi_square;
            named = i;
            off_mm = slip[i].length_mm - slip[i].stitches * others.loop_mm[0] -
                     slip[i].float_mm * others.slack;
        }
        CU_ASSERT_EQUAL(fit.worst, named);
        CU_ASSERT_DOUBLE_EQUAL(fit.worst_times * fit.worst_times, most, 1e-6);
        CU_ASSERT_DOUBLE_EQUAL(fit.worst_off_mm, off_mm, 1e-6);
    }
}

static struct loop_observation weighed(double stitches, double floats, double inches, double sd_mm)
{
    struct loop_observation one = length(stitches, floats, inches, sd_mm);

    one.by_tape = false;
    one.by_scale = true;
    return one;
}

/* 40 l = 20 in by tape, 1600 l = 1000 in by scale: by hand the scale has a quarter too much, so a ball
 * 4/5 of its band's length; in its errors 0.2 over the root of (0.03^2 + (0.8^2)(0.01^2 + 0.02^2) +
 * 0.01^2), where the tape is out by 0.01 of itself and 0.02 of pulling, the scale by 0.01 of itself. */
static void test_kinds_by_hand(void)
{
    const struct loop_observation all[] = {length(40, 0, 20, 0.2 * inch_mm),
                                           weighed(1600, 0, 1000, 10 * inch_mm)};
    struct loop_fit_errors errors = plain_errors;
    struct loop_fit fit;
    double sd = sqrt(0.0009 + 0.64 * 0.0005 + 0.0001);

    errors.pull_sd = 0.02;
    errors.ball_sd = 0.03;
    CU_ASSERT_EQUAL(loop_fit_solve(all, 2, 1, &errors, &fit), 1);
    CU_ASSERT_TRUE(fit.kinds_told);
    CU_ASSERT_DOUBLE_EQUAL(fit.kinds_ratio, 0.8, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(fit.kinds_times, 0.2 / sd, 1e-6);
    CU_ASSERT_DOUBLE_EQUAL(fit.kinds_drop, fit.chi_square, 1e-6); /* one measurement beyond */
    CU_ASSERT_TRUE(fit.ball_bent > 1.645);
    CU_ASSERT_EQUAL(loop_fit_solve(all, 1, 1, &errors, &fit), 1);
    CU_ASSERT_FALSE(fit.kinds_told);
}

/* The same by a fit that does without the band: its ball, and how far chi-square falls. */
static void test_kinds_without_the_band(void)
{
    const struct loop_observation all[FEW] = {
        length(28, 12, 15.125, 2.1),  length(12, 28, 9.625, 1.4), length(33, 7, 16.75, 2.385),
        weighed(1760, 1760, 1003, 80), weighed(950, 650, 540, 60), length(75, 0, 36, 6.3)};
    struct loop_fit_errors errors = plain_errors, none;
    struct loop_fit fit, without;

    errors.pull_sd = 0.0122;
    errors.ball_sd = 0.0243;
    none = errors;
    none.ball_sd = 1e4;
    CU_ASSERT_EQUAL(loop_fit_solve(all, FEW, 1, &errors, &fit), 0);
    CU_ASSERT_EQUAL(loop_fit_solve(all, FEW, 1, &none, &without), 0);
    CU_ASSERT_DOUBLE_EQUAL(fit.kinds_ratio, without.ball_ratio, 1e-6);
    CU_ASSERT_DOUBLE_EQUAL(fit.kinds_drop, fit.chi_square - without.chi_square, 1e-4);
    CU_ASSERT_DOUBLE_EQUAL(fit.kinds_times, sqrt(fit.kinds_drop), 1e-6); /* the slack is told */
}

/* Printed table of chi-square, upper 5 %: 3 degrees 7.815 (any textbook). */
static void test_printed_chance(void)
{
    const double off_in = sqrt(7.815 / 4) * 5 / inch_mm;
    const struct loop_observation all[] = {
        length(40, 0, 19.25 - off_in, 5), length(40, 0, 19.25 - off_in, 5),
        length(40, 0, 19.25 + off_in, 5), length(40, 0, 19.25 + off_in, 5)};
    struct loop_fit fit;

    CU_ASSERT_EQUAL(loop_fit_solve(all, 4, 1, &plain_errors, &fit), 1);
    CU_ASSERT_DOUBLE_EQUAL(fit.chance, 0.05, 0.0001);
    CU_ASSERT_DOUBLE_EQUAL(loop_fit_excess(&fit), 7.815 / 3, 1e-9);
    CU_ASSERT_EQUAL(loop_fit_solve(all, 1, 1, &plain_errors, &fit), 1);
    CU_ASSERT_DOUBLE_EQUAL(loop_fit_excess(&fit), 1, 0);
}

/* Lengths made from one stitch and one strand leave nothing over, however many they are and whatever they are
 * counted in; two that differ by a millionth of their error leave half its square. */
static void test_faultless(void)
{
    const double per[] = {1e-3, 1, 25.4, 1e4};
    struct loop_observation all[LOOP_FIT_OBSERVATIONS_MAX];
    struct loop_fit fit;

    for (size_t p = 0; p < sizeof per / sizeof *per; p++)
        for (int n = 3; n <= LOOP_FIT_OBSERVATIONS_MAX; n++) {
            for (int i = 0; i < n; i++) {
                double stitches = 11 + 7 * (i % 9), floats = 5 + 3 * (i % 4);

                all[i] = length(stitches, floats, 0, per[p] / (3 + i % 5));
                all[i].float_mm = floats * 0.12 * per[p];
                all[i].length_mm = stitches * 0.4813 * per[p] + all[i].float_mm * 1.1;
            }
            CU_ASSERT_TRUE(loop_fit_solve(all, n, 1, &plain_errors, &fit) >= 0);
            CU_ASSERT_DOUBLE_EQUAL(fit.chi_square, 0, 0);
            CU_ASSERT_DOUBLE_EQUAL(fit.chance, 1, 0);
        }
    all[0] = length(40, 0, 20, inch_mm / 10);
    all[1] = length(40, 0, 20 + 1e-7, inch_mm / 10);
    CU_ASSERT_EQUAL(loop_fit_solve(all, 2, 1, &plain_errors, &fit), 1);
    CU_ASSERT_DOUBLE_EQUAL(fit.chi_square / 0.5e-12, 1, 1e-6);
}

CU_TestInfo tests_loop_fit[] = {
    {"one row by hand", test_one_row_by_hand},
    {"one row there and back", test_one_row_there_and_back},
    {"two lengths in exact fractions", test_two_in_fractions},
    {"three lengths of unlike weight in exact fractions", test_three_in_fractions},
    {"swatch weight by hand", test_weight_by_hand},
    {"swatch weights by hand", test_weights_by_hand},
    {"normal equations by Cramer's rule", test_normal_equations},
    {"groups each their own mean", test_groups},
    {"split by yarn, by counting", test_split_by_yarn},
    {"slack that cannot be told", test_slack_not_told},
    {"slack given is hers", test_given_slack_is_hers},
    {"refused", test_refused},
    {"measurements that contradict", test_contradiction},
    {"the one named by leaving each out", test_worst_by_leaving_out},
    {"tape against scale by hand", test_kinds_by_hand},
    {"tape against scale without the band", test_kinds_without_the_band},
    {"printed chi-square", test_printed_chance},
    {"nothing left over of a faultless fit", test_faultless},
    CU_TEST_INFO_NULL,
};
