/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "likely.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

/* Nine in ten between the two ends leaves one in twenty beyond each. */
static const double upper_twentieth = 0.95;
/* gauge.c gives the 95 % interval. */
static const double gauge_quantile = 0.975;

double likely_variance(const struct likely_growth *growth, const struct likely_errors *errors)
{
    double sum = 0;

    for (int a = 0; a < LIKELY_CAUSES; a++)
        for (int b = 0; b < LIKELY_CAUSES; b++)
            sum += growth->metres[a] * growth->metres[b] * errors->covariance[a][b];
    return fmax(sum, 0);
}

double likely_log_sd(double length_m, double variance_m2)
{
    if (!(length_m > 0) || !(variance_m2 >= 0))
        return (double)NAN;
    return sqrt(log1p(variance_m2 / (length_m * length_m)));
}

double likely_quantile_m(double length_m, double log_sd, double chance)
{
    return length_m * exp(gsl_cdf_ugaussian_Pinv(chance) * log_sd);
}

double likely_chance(double length_m, double log_sd, double at_most_m)
{
    if (!(at_most_m > 0))
        return 0;
    if (!(length_m > 0))
        return 1;
    if (!(log_sd > 0))
        return at_most_m >= length_m;
    return gsl_cdf_ugaussian_P(log(at_most_m / length_m) / log_sd);
}

double likely_nine_in_ten(double sd)
{
    return sd * gsl_cdf_ugaussian_Pinv(upper_twentieth);
}

double likely_sd_of_nine_in_ten(double part)
{
    return part / gsl_cdf_ugaussian_Pinv(upper_twentieth);
}

double likely_gauge_sd(int nplaces, double half_width, double place_sd)
{
    double least = place_sd / sqrt(nplaces > 1 ? nplaces : 1);

    if (nplaces < 2 || !isfinite(half_width))
        return least;
    return fmax(least, half_width / gsl_cdf_tdist_Pinv(gauge_quantile, nplaces - 1));
}
