/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a simulated knitter really used for a plan: her own stitch, strand, gauge and ends put in
 * place of those of the plan and multiplied out, nothing taken to first order.
 */
#ifndef STRANDWISE_TEST_TRUE_YARN_H
#define STRANDWISE_TEST_TRUE_YARN_H

#include <stdbool.h>

#include "plan/plan.h"
#include "read/project/project.h"

static const double true_nine = 1.644854; /* nine in ten, printed in any table of the normal */

/* Hers for the plan's, 1.02: two per cent more. */
struct true_yarn {
    double loop, plain_loop; /* yarn in a stitch */
    double strand;           /* behind one stitch */
    double per_in, rows_per_in;
    double drift;            /* in the piece for in the swatch */
    double catches, edges, rib;
};

/* Share of a yarn's plain parts that is knitted to a length. */
static inline double true_share_by_length(const struct plan *plan, int yarn)
{
    double by_length = 0, all = 0;

    for (int i = 0; i < plan->piece.nsteps; i++) {
        const struct plan_step *step = &plan->piece.steps[i];

        if (step->yarn != yarn || (step->kind != STEP_PLAIN && step->kind != STEP_SHAPE))
            continue;
        all += (double)step->stitches;
        for (int p = 0; p < plan->project->nparts; p++)
            if (step->kind == STEP_PLAIN && plan->project->parts[p].length.in.den > 0 &&
                plan->project->parts[p].name == step->name)
                by_length += (double)step->stitches;
    }
    return all > 0 ? by_length / all : 0;
}

static inline bool true_swatch_by_size(const struct swatch *swatch)
{
    bool weighed = false;

    for (int i = 0; i < SWATCH_TIMES_MAX; i++)
        weighed = weighed || swatch->weight[i].rows > 0;
    return swatch->size.in.den > 0 || !weighed;
}

static inline double true_worked_m(const struct plan *plan, int yarn, const struct true_yarn *hers)
{
    const double *use = plan->piece.yarns[yarn].use_m;
    double by_length = true_share_by_length(plan, yarn);
    double loops = use[USE_STITCHES] + use[USE_SELVEDGE] + use[USE_STEEK] + use[USE_DUPLICATE];
    double plain = use[USE_PLAIN] * (1 - by_length + by_length * hers->rows_per_in);
    double worked = loops * hers->loop + use[USE_FLOATS] * hers->strand +
                    (plain + use[USE_RIB] * hers->rib) * hers->plain_loop;
    double swatch = use[USE_SWATCH] * hers->loop;
    double widths =
        use[USE_CATCHES] * hers->catches + (use[USE_CAST_ON] + use[USE_BIND_OFF]) * hers->edges;

    if (true_swatch_by_size(&plan->project->swatch))
        swatch *= hers->per_in * hers->rows_per_in;
    return worked * hers->drift + swatch + widths / hers->per_in +
           (use[USE_SEAM] + use[USE_CARRIED] + use[USE_TAILS]) * hers->edges;
}

/* ball_ratio: of her balls for their bands. Two ends of each join to a further ball. */
static inline double true_balls_m(const struct plan *plan, int yarn, int64_t balls,
                                  double ball_ratio)
{
    const struct plan_yarn *bought = &plan->piece.yarns[yarn];
    int64_t joins = bought->have_m > 0 ? balls : balls - 1;

    double told = bought->band_m / bought->ball_m; /* the plan counts in balls as long as it takes them for */

    return (bought->have_m + (double)balls * bought->ball_m) * told * ball_ratio -
           (double)joins * 2 * plan->tail_in * 0.0254;
}

#endif
