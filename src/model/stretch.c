/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "stretch.h"

double stretch_ratio(int64_t own, int64_t all, double stitch_ratio, double float_ratio)
{
    double share = (double)own / (double)all;

    return share * stitch_ratio + (1.0 - share) * float_ratio;
}

double stretch_float_ratio(int64_t own, int64_t all, double stitch_ratio, double ratio)
{
    double share = (double)own / (double)all;

    return (ratio - share * stitch_ratio) / (1.0 - share);
}

int stretch_tightest(const int64_t *count, int nyarns, double stitch_ratio, double float_ratio,
                     double *ratio)
{
    int64_t all = 0;
    int yarns = 0, tightest = -1;

    *ratio = stitch_ratio;
    for (int yarn = 0; yarn < nyarns; yarn++) {
        all += count[yarn];
        yarns += count[yarn] > 0;
    }
    for (int yarn = 0; yarn < nyarns && yarns > 1; yarn++) {
        double one;

        if (count[yarn] == 0)
            continue;
        one = stretch_ratio(count[yarn], all, stitch_ratio, float_ratio);
        if (tightest >= 0 && !(one < *ratio))
            continue;
        tightest = yarn;
        *ratio = one;
    }
    return tightest;
}

double stretch_stitches(double must_in, double per_in, double ratio)
{
    return must_in * per_in / ratio;
}
