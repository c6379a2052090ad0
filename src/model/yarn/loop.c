/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "loop.h"

#include <float.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_multifit.h>
#include <math.h>
#include <stddef.h>

/* --- from the gauge alone ------------------------------------------------------------- */

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

/* --- the fit of what was measured ------------------------------------------------------ */

/* Columns of the design are scaled to about one: a singular value this small is none. */
static const double rank_tolerance = 1e-8;
/* A row of which less than this is told by the others cannot be held against them. */
static const double own_part = 1e-9;

enum { COLUMNS_MAX = LOOP_FIT_GROUPS_MAX + 3, ROWS_MAX = LOOP_FIT_OBSERVATIONS_MAX + 2 };

/* Rows times columns, every row in its own standard error. */
struct design {
    int rows, columns, observations;
    int group_column[LOOP_FIT_GROUPS_MAX]; /* -1: nothing measured */
    int slack_column, pull_column, ball_column;
    double at[ROWS_MAX][COLUMNS_MAX];
    double length[ROWS_MAX];  /* what was measured */
    double by_slack[ROWS_MAX]; /* and how it moves with a slack that is not fitted */
    double scale[COLUMNS_MAX];
};

struct solution {
    double value[COLUMNS_MAX];
    double moved[COLUMNS_MAX]; /* by the slack that is not fitted, per unit of it */
    double covariance[COLUMNS_MAX][COLUMNS_MAX];
    double chi_square;
};

static void add_prior(struct design *design, int column, double sd)
{
    if (column < 0)
        return;
    design->at[design->rows][column] = 1 / sd;
    design->rows++;
}

static bool any(const struct loop_observation *all, int count, bool tape)
{
    for (int i = 0; i < count; i++)
        if (tape ? all[i].by_tape : all[i].by_scale)
            return true;
    return false;
}

static void set_columns(struct design *design, const struct loop_observation *all, int count,
                        int ngroups, const struct loop_fit_errors *errors, bool with_slack)
{
    bool seen[LOOP_FIT_GROUPS_MAX] = {false};

    for (int i = 0; i < count; i++)
        seen[all[i].group] = true;
    for (int g = 0; g < LOOP_FIT_GROUPS_MAX; g++)
        design->group_column[g] = g < ngroups && seen[g] ? design->columns++ : -1;
    design->slack_column = with_slack ? design->columns++ : -1;
    design->pull_column = errors->pull_sd > 0 && any(all, count, true) ? design->columns++ : -1;
    design->ball_column = errors->ball_sd > 0 && any(all, count, false) ? design->columns++ : -1;
}

/* y (1 + pull + ball) = n l + f s, with y as measured: y = n l + f s - y pull - y ball. */
static struct design design_of(const struct loop_observation *all, int count, int ngroups,
                               const struct loop_fit_errors *errors, bool with_slack)
{
    struct design design = {.observations = count};

    set_columns(&design, all, count, ngroups, errors, with_slack);
    for (int i = 0; i < count; i++) {
        const struct loop_observation *one = &all[i];
        double *row = design.at[i];

        row[design.group_column[one->group]] = one->stitches / one->sd_mm;
        design.length[i] = one->length_mm / one->sd_mm;
        if (with_slack)
            row[design.slack_column] = one->float_mm / one->sd_mm;
        else {
            design.length[i] -= one->float_mm * errors->slack / one->sd_mm;
            design.by_slack[i] = -one->float_mm / one->sd_mm;
        }
        if (one->by_tape && design.pull_column >= 0)
            row[design.pull_column] = -one->length_mm / one->sd_mm;
        if (one->by_scale && design.ball_column >= 0)
            row[design.ball_column] = -one->length_mm / one->sd_mm;
    }
    design.rows = count;
    add_prior(&design, design.pull_column, errors->pull_sd);
    add_prior(&design, design.ball_column, errors->ball_sd);
    return design;
}

/* Columns of much different size would hide a rank that is missing. */
static void scale_columns(struct design *design)
{
    for (int c = 0; c < design->columns; c++) {
        double squares = 0;

        for (int r = 0; r < design->rows; r++)
            squares += design->at[r][c] * design->at[r][c];
        design->scale[c] = squares > 0 ? sqrt(squares) : 1;
        for (int r = 0; r < design->rows; r++)
            design->at[r][c] /= design->scale[c];
    }
}

struct solver {
    gsl_matrix *matrix, *covariance;
    gsl_vector *weight, *right, *value;
    gsl_multifit_linear_workspace *workspace;
};

static struct solver solver_open(const struct design *design)
{
    size_t rows = (size_t)design->rows, columns = (size_t)design->columns;
    struct solver solver = {gsl_matrix_alloc(rows, columns), gsl_matrix_alloc(columns, columns),
                            gsl_vector_alloc(rows),          gsl_vector_alloc(rows),
                            gsl_vector_alloc(columns),       gsl_multifit_linear_alloc(rows, columns)};

    return solver;
}

/* What was not to be had is none to GSL. */
static void solver_close(struct solver *solver)
{
    gsl_matrix_free(solver->matrix);
    gsl_matrix_free(solver->covariance);
    gsl_vector_free(solver->weight);
    gsl_vector_free(solver->right);
    gsl_vector_free(solver->value);
    gsl_multifit_linear_free(solver->workspace);
}

static bool solver_ready(const struct solver *solver)
{
    return solver->matrix && solver->covariance && solver->weight && solver->right &&
           solver->value && solver->workspace;
}

static bool solve_right(struct solver *solver, const struct design *design, const double *right,
                        double *value, double *chi_square)
{
    size_t rank = 0;
    int status;

    gsl_vector_set_all(solver->weight, 1);
    for (size_t r = 0; r < (size_t)design->rows; r++) {
        gsl_vector_set(solver->right, r, right[r]);
        for (size_t c = 0; c < (size_t)design->columns; c++)
            gsl_matrix_set(solver->matrix, r, c, design->at[r][c]);
    }
    status = gsl_multifit_wlinear_tsvd(solver->matrix, solver->weight, solver->right,
                                       rank_tolerance, solver->value, solver->covariance,
                                       chi_square, &rank, solver->workspace);
    for (size_t c = 0; c < (size_t)design->columns; c++)
        value[c] = gsl_vector_get(solver->value, c) / design->scale[c];
    return status == 0 && rank == (size_t)design->columns;
}

/* What the sums cannot tell from nothing left over. Least squares by orthogonal factors are exact for a right side
 * (and rows) some rows x columns roundings of itself off; so much may stay over of a fit that is faultless.
 * Source: Higham, Accuracy and Stability of Numerical Algorithms, theorem 20.3 (from memory). */
static double rounding_noise(const struct design *design)
{
    double part = design->rows * design->columns * DBL_EPSILON, squares = 0;

    for (int r = 0; r < design->rows; r++)
        squares += design->length[r] * design->length[r];
    return part * part * squares;
}

/* false: the rows do not fix every column. */
static bool solve(struct design *design, struct solution *solution)
{
    struct solver solver;
    double unused;
    bool fine = false;

    if (design->rows < design->columns)
        return false;
    scale_columns(design);
    solver = solver_open(design);
    if (solver_ready(&solver)) {
        fine = solve_right(&solver, design, design->by_slack, solution->moved, &unused) &&
               solve_right(&solver, design, design->length, solution->value,
                           &solution->chi_square);
        for (size_t a = 0; a < (size_t)design->columns; a++)
            for (size_t b = 0; b < (size_t)design->columns; b++)
                solution->covariance[a][b] = gsl_matrix_get(solver.covariance, a, b) /
                                             (design->scale[a] * design->scale[b]);
        if (solution->chi_square <= rounding_noise(design))
            solution->chi_square = 0;
    }
    solver_close(&solver);
    return fine;
}

/* --- from the solution to the fit ------------------------------------------------------ */

/* Columns of the design as rows of fit->covariance; -1: not among them. */
static int place_of(const struct design *design, int column)
{
    for (int g = 0; g < LOOP_FIT_GROUPS_MAX; g++)
        if (design->group_column[g] == column)
            return g;
    if (column == design->slack_column)
        return LOOP_FIT_SLACK;
    return column == design->ball_column ? LOOP_FIT_BALL : -1;
}

static double size_of(const struct loop_fit *fit, int place)
{
    if (place == LOOP_FIT_SLACK)
        return fit->slack;
    return place == LOOP_FIT_BALL ? 1 : fit->loop_mm[place];
}

static void set_covariance(const struct design *design, const struct solution *solution,
                           const struct loop_fit_errors *errors, struct loop_fit *fit)
{
    double slack_variance = errors->slack_sd * errors->slack_sd;
    bool fixed = design->slack_column < 0;

    for (int a = 0; a < design->columns; a++) {
        int to = place_of(design, a);

        for (int b = 0; b < design->columns && to >= 0; b++) {
            int too = place_of(design, b);
            double both = solution->covariance[a][b];

            if (fixed)
                both += solution->moved[a] * solution->moved[b] * slack_variance;
            if (too >= 0)
                fit->covariance[to][too] = both / (size_of(fit, to) * size_of(fit, too));
        }
        if (fixed && to >= 0)
            fit->covariance[to][LOOP_FIT_SLACK] = fit->covariance[LOOP_FIT_SLACK][to] =
                solution->moved[a] * slack_variance / (size_of(fit, to) * fit->slack);
    }
    if (fixed)
        fit->covariance[LOOP_FIT_SLACK][LOOP_FIT_SLACK] =
            slack_variance / (fit->slack * fit->slack);
    if (design->ball_column < 0)
        fit->covariance[LOOP_FIT_BALL][LOOP_FIT_BALL] = errors->ball_sd * errors->ball_sd;
}

/* By how much of itself a row draws the fit after it: all of it is 1. */
static double leverage(const struct design *design, const struct solution *solution, int row)
{
    double sum = 0;

    for (int a = 0; a < design->columns; a++)
        for (int b = 0; b < design->columns; b++)
            sum += design->at[row][a] * design->scale[a] * solution->covariance[a][b] *
                   design->at[row][b] * design->scale[b];
    return sum;
}

static double left_over(const struct design *design, const struct solution *solution, int row)
{
    double left = design->length[row];

    for (int c = 0; c < design->columns; c++)
        left -= design->at[row][c] * design->scale[c] * solution->value[c];
    return left;
}

/* What is left over of a row e and draws the fit by h: the others alone would have left e / (1 - h),
 * and without it chi-square would be less by e^2 / (1 - h). Of rows that explain as much, the one
 * farther off the fit, else the first. */
static void set_worst(const struct loop_observation *all, const struct design *design,
                      const struct solution *solution, struct loop_fit *fit)
{
    const double alike = 1e-6;
    double worst = 0;

    for (int i = 0; i < design->observations; i++) {
        double left = left_over(design, solution, i);
        double free = 1 - leverage(design, solution, i);
        double times = fabs(left) / sqrt(fmax(free, own_part));
        bool same = fabs(times - fit->worst_times) <= alike * times;

        if (!(free > own_part) ||
            (fit->worst >= 0 && (same ? fabs(left) <= (1 + alike) * worst : times < fit->worst_times)))
            continue;
        worst = fabs(left);
        fit->worst = i;
        fit->worst_times = times;
        fit->worst_off_mm = left / free * all[i].sd_mm;
    }
}

/* The ball's length by tape and scale alone: the same of its observation of 0. */
static void set_kinds(const struct design *design, const struct solution *solution,
                      const struct loop_fit_errors *errors, struct loop_fit *fit)
{
    int row = design->rows - 1, ball = design->ball_column;
    double free = 1 - leverage(design, solution, row), part, slack_part;

    if (design->pull_column >= 0)
        fit->pull_bent = fabs(solution->value[design->pull_column]) / errors->pull_sd;
    fit->ball_bent = fabs(solution->value[ball]) / errors->ball_sd;
    if (!(free > own_part))
        return;
    part = solution->value[ball] / free;
    slack_part = design->slack_column < 0 ? solution->moved[ball] / free * errors->slack_sd : 0;
    fit->kinds_told = true;
    fit->kinds_ratio = 1 + part;
    fit->kinds_drop = part * part * free / (errors->ball_sd * errors->ball_sd);
    fit->kinds_times = fabs(part) / hypot(errors->ball_sd / sqrt(free), slack_part);
}

static void set_left_over(const struct loop_observation *all, const struct design *design,
                          const struct solution *solution, const struct loop_fit_errors *errors,
                          struct loop_fit *fit)
{
    fit->chi_square = solution->chi_square;
    fit->freedom = design->rows - design->columns;
    if (fit->freedom < 1)
        return;
    fit->chance = gsl_cdf_chisq_Q(fit->chi_square, fit->freedom);
    set_worst(all, design, solution, fit);
    if (design->ball_column >= 0 && any(all, design->observations, true))
        set_kinds(design, solution, errors, fit);
}

static int set_fit(const struct loop_observation *all, const struct design *design,
                   const struct solution *solution, const struct loop_fit_errors *errors,
                   struct loop_fit *fit)
{
    bool fine = true;

    *fit = (struct loop_fit){.worst = -1, .chance = (double)NAN, .ball_ratio = 1, .kinds_ratio = 1};
    for (int g = 0; g < LOOP_FIT_GROUPS_MAX; g++) {
        int column = design->group_column[g];

        fit->loop_mm[g] = column < 0 ? (double)NAN : solution->value[column];
        fine = fine && (column < 0 || (isfinite(fit->loop_mm[g]) && fit->loop_mm[g] > 0));
    }
    fit->slack_told = design->slack_column >= 0;
    fit->slack = fit->slack_told ? solution->value[design->slack_column] : errors->slack;
    if (design->ball_column >= 0)
        fit->ball_ratio = 1 + solution->value[design->ball_column];
    set_left_over(all, design, solution, errors, fit);
    if (!fine || !(isfinite(fit->slack) && fit->slack > 0 && fit->ball_ratio > 0))
        return -2;
    set_covariance(design, solution, errors, fit);
    return fit->slack_told ? 0 : 1;
}

static bool are_usable(const struct loop_observation *all, int count, int ngroups)
{
    if (count < 1 || count > LOOP_FIT_OBSERVATIONS_MAX || ngroups < 1 ||
        ngroups > LOOP_FIT_GROUPS_MAX)
        return false;
    for (int i = 0; i < count; i++)
        if (all[i].group < 0 || all[i].group >= ngroups || !(all[i].stitches > 0) ||
            !(all[i].float_mm >= 0) || !(all[i].length_mm > 0) || !(all[i].sd_mm > 0) ||
            !isfinite(all[i].stitches + all[i].float_mm + all[i].length_mm + all[i].sd_mm))
            return false;
    return true;
}

/* What was given of the slack is hers: it shares no error with what was measured. */
static void give_slack(const struct loop_fit_errors *errors, struct loop_fit *fit)
{
    for (int i = 0; i < LOOP_FIT_SIZE; i++)
        fit->covariance[i][LOOP_FIT_SLACK] = fit->covariance[LOOP_FIT_SLACK][i] = 0;
    fit->slack = errors->slack;
    fit->covariance[LOOP_FIT_SLACK][LOOP_FIT_SLACK] =
        errors->slack_sd * errors->slack_sd / (errors->slack * errors->slack);
}

int loop_fit_solve(const struct loop_observation *observations, int count, int ngroups,
                   const struct loop_fit_errors *errors, struct loop_fit *fit)
{
    struct design design;
    struct solution solution = {{0}, {0}, {{0}}, 0};
    int status;

    *fit = (struct loop_fit){.worst = -1, .chance = (double)NAN, .slack = (double)NAN};
    for (int g = 0; g < LOOP_FIT_GROUPS_MAX; g++)
        fit->loop_mm[g] = (double)NAN;
    if (!are_usable(observations, count, ngroups))
        return -1;
    design = design_of(observations, count, ngroups, errors, true);
    if (solve(&design, &solution) &&
        sqrt(solution.covariance[design.slack_column][design.slack_column]) <=
            errors->slack_told_sd) {
        status = set_fit(observations, &design, &solution, errors, fit);
        if (status == 0 && errors->slack_given)
            give_slack(errors, fit);
        return status;
    }
    design = design_of(observations, count, ngroups, errors, false);
    if (!solve(&design, &solution))
        return -1;
    return set_fit(observations, &design, &solution, errors, fit);
}

int loop_fit_split(struct loop_observation *list, const int *yarn, int count, int first, int *group_of,
                   int nyarns, int *ngroups)
{
    bool left = false; /* in group 0 */

    *ngroups = first;
    for (int y = 0; y < nyarns; y++)
        group_of[y] = -1;
    for (int i = 0; i < count; i++) {
        if (list[i].group != 0)
            continue;
        if (yarn[i] >= 0 && group_of[yarn[i]] < 0 && *ngroups < LOOP_FIT_GROUPS_MAX)
            group_of[yarn[i]] = (*ngroups)++;
        if (yarn[i] >= 0 && group_of[yarn[i]] >= 0)
            list[i].group = group_of[yarn[i]];
        else
            left = true;
    }
    return *ngroups - first - (left ? 0 : 1);
}

double loop_fit_excess(const struct loop_fit *fit)
{
    return fit->freedom > 0 ? fmax(1, fit->chi_square / fit->freedom) : 1;
}

void loop_fit_widen(struct loop_fit *fit, double excess)
{
    for (int a = 0; a < LOOP_FIT_SIZE; a++)
        for (int b = 0; b < LOOP_FIT_SIZE; b++)
            fit->covariance[a][b] *= excess;
}
