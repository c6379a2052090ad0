/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "weighed.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stddef.h>

/* Rounding is uniform over a step. */
static const double uniform_variance = 1.0 / 12.0;

double weighed_scale_sd(double step_g)
{
    return step_g * sqrt(uniform_variance);
}

double weighed_mean(const struct weighed_belief *belief, const double *row)
{
    double sum = 0.0;

    for (int i = 0; i < belief->n; i++)
        sum += row[i] * belief->mean[i];
    return sum;
}

/* scratch = C row; the row goes with it. */
double weighed_variance(const struct weighed_belief *belief, const double *row, double *scratch)
{
    size_t n = (size_t)belief->n;
    gsl_matrix_const_view covariance = gsl_matrix_const_view_array(belief->covariance, n, n);
    gsl_vector_const_view by = gsl_vector_const_view_array(row, n);
    gsl_vector_view out = gsl_vector_view_array(scratch, n);
    double variance = 0.0;

    gsl_blas_dsymv(CblasLower, 1.0, &covariance.matrix, &by.vector, 0.0, &out.vector);
    gsl_blas_ddot(&by.vector, &out.vector, &variance);
    return fmax(variance, 0.0);
}

struct weighed_surprise weighed_take(struct weighed_belief *belief, const double *row, double seen,
                                     double sd, double *scratch)
{
    size_t n = (size_t)belief->n;
    double variance = weighed_variance(belief, row, scratch) + sd * sd;
    struct weighed_surprise surprise = {seen - weighed_mean(belief, row), sqrt(variance)};
    gsl_matrix_view covariance = gsl_matrix_view_array(belief->covariance, n, n);
    gsl_vector_view mean = gsl_vector_view_array(belief->mean, n);
    gsl_vector_const_view gain = gsl_vector_const_view_array(scratch, n);

    gsl_blas_daxpy(surprise.off / variance, &gain.vector, &mean.vector);
    gsl_blas_dsyr(CblasLower, -1.0 / variance, &gain.vector, &covariance.matrix);
    return surprise;
}

void weighed_unsettle(struct weighed_belief *belief, int index, double sd)
{
    belief->covariance[index * belief->n + index] += sd * sd;
}

double weighed_excess(double chi_square, int count, double chance)
{
    if (count < 1 || !(gsl_cdf_chisq_Q(chi_square, count) < chance))
        return 1.0;
    return fmax(chi_square / count, 1.0);
}
