/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "stretch.h"

#include <math.h>
#include <stddef.h>

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

int64_t stretch_count_row(const struct grid *grid, int row, int64_t *count)
{
    int64_t all = 0;

    for (int yarn = 0; yarn < GRID_YARNS_MAX; yarn++)
        count[yarn] = 0;
    for (int column = 0; column < grid->ncols; column++) {
        uint8_t yarn = grid_at(grid, row, column);

        if (yarn == GRID_NO_STITCH)
            continue;
        count[yarn]++;
        all++;
    }
    return all;
}

double stretch_grid_ratio(const struct grid *grid, double stitch_ratio, double float_ratio)
{
    double least = stitch_ratio, ratio;
    int64_t count[GRID_YARNS_MAX];

    for (int row = 0; row < grid->nrows; row++) {
        stretch_count_row(grid, row, count);
        stretch_tightest(count, GRID_YARNS_MAX, stitch_ratio, float_ratio, &ratio);
        least = row == 0 ? ratio : fmin(least, ratio);
    }
    return least;
}

bool stretch_reaches(double pulls_to_in, double must_in)
{
    const double hair = 1e-9;

    return pulls_to_in >= must_in * (1.0 - hair);
}

double stretch_stitches(double must_in, double per_in, double ratio)
{
    return must_in * per_in / ratio;
}
