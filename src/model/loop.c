/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "loop.h"

#include <math.h>
#include <stdbool.h>

/* A strand lies behind its stitches: much shorter than they are wide, it would pucker the
 * fabric; half as long again, it would hang in bights. Beyond these she measured amiss. */
static const double slack_least = 0.9;
static const double slack_most = 1.6;

static const double mm_per_m = 1000;

static double finite_positive(double value)
{
    return isfinite(value) && value > 0 ? value : (double)NAN;
}

double loop_from_density_mm(double ks, double sts_per_mm, double rows_per_mm)
{
    return finite_positive(sqrt(ks / (sts_per_mm * rows_per_mm)));
}

double loop_from_width_mm(double kw, double sts_per_mm)
{
    return finite_positive(kw / sts_per_mm);
}

double loop_from_thickness_mm(double sts_per_mm, double rows_per_mm, double diameter_mm,
                              double widths, double rows, double diameters)
{
    return finite_positive(widths / sts_per_mm + rows / rows_per_mm + diameters * diameter_mm);
}

double loop_yarn_diameter_mm(double metres_per_gram, double packing_g_per_cm3)
{
    /* 1 g/m over 1 g/cm^3 is 1 mm^2: the units need no factor. */
    double section_mm2 = 1 / (metres_per_gram * packing_g_per_cm3);

    return finite_positive(2 * sqrt(section_mm2 / acos(-1.0)));
}

int loop_from_two_yarns(int row_sts, const int sts[2], const double length_mm[2], double width_mm,
                        double *loop_mm, double *slack_ratio)
{
    bool counts_fit = sts[0] >= 0 && sts[1] >= 0 && (long)sts[0] + sts[1] == row_sts;
    double row = row_sts, uneven, loop, slack;

    *loop_mm = *slack_ratio = (double)NAN;
    if (!counts_fit || row_sts < 1)
        return -3;
    if (sts[0] == sts[1])
        return -1;
    /* Each yarn floats behind the other's stitches, so the determinant a^2 - b^2 of
     *   a l + b w s = length[0],  b l + a w s = length[1]  is row (a - b). */
    uneven = row * (sts[0] - sts[1]);
    loop = (sts[0] * length_mm[0] - sts[1] * length_mm[1]) / uneven;
    slack = (sts[0] * length_mm[1] - sts[1] * length_mm[0]) / uneven / width_mm;
    if (!(isfinite(loop) && loop > 0 && isfinite(slack) && slack > 0))
        return -2;
    *loop_mm = loop;
    *slack_ratio = slack;
    return slack < slack_least || slack > slack_most;
}

int loop_from_weight_mm(double mass_g, double metres_per_gram, double nstitches,
                        double float_per_stitch, double width_mm, double slack_ratio,
                        double *loop_mm)
{
    double yarn_mm = mass_g * metres_per_gram * mm_per_m / nstitches;

    *loop_mm = finite_positive(yarn_mm - float_per_stitch * width_mm * slack_ratio);
    return isfinite(*loop_mm) ? 0 : -1;
}
