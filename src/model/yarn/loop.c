/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "loop.h"

#include <math.h>

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
