/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The yarn of the swatches, whether it is counted or only said.
 */
#include "plan/builder.h"

/* The largest piece that was weighed; NULL: none. */
static const struct given_weight *weighed(const struct swatch *swatch)
{
    const struct given_weight *largest = NULL;

    for (int i = 0; i < SWATCH_TIMES_MAX; i++) {
        const struct given_weight *one = &swatch->weight[i];

        if (one->rows > 0 && (!largest || (double)one->columns * one->rows >
                                           (double)largest->columns * largest->rows))
            largest = one;
    }
    return largest;
}

bool plan_swatch_by_size(const struct builder *builder)
{
    const struct swatch *swatch = &builder->project->swatch;

    return rational_is_value(swatch->size.in) || !weighed(swatch);
}

/* All of it, borders included: its size as given; else the stitches that were weighed, if so; else
 * a border all round what was counted. */
static struct plan_swatch read_swatch(const struct builder *builder, const struct swatch *swatch)
{
    struct plan_swatch out = {.plain = swatch == &builder->project->swatch_plain};

    if (rational_is_value(swatch->size.in))
        out.side_in = rational_double(swatch->size.in);
    else if (!weighed(swatch)) {
        out.side_in =
            rational_double(swatch->over.in) + 2.0 * builder_value(builder, "swatch_border_in");
        out.taken = true;
    }
    return out;
}

/* At another gauge a swatch of the same size. */
static double stitches_of(const struct builder *builder, const struct swatch *swatch,
                          const struct plan_gauge *own, const struct plan_gauge *here)
{
    const struct given_weight *weight = weighed(swatch);
    double closer = here->per_in * here->rows_per_in / (own->per_in * own->rows_per_in);
    double side_in = read_swatch(builder, swatch).side_in;

    if (!(side_in > 0.0))
        return (double)weight->columns * weight->rows * closer;
    return side_in * here->per_in * side_in * here->rows_per_in;
}

/* It was worked from the first band with more than one yarn, if there is one. */
static const struct plan_band *band_of(const struct plan_piece *piece)
{
    for (int i = 0; i < piece->nbands; i++)
        if (piece->bands[i].ncolours > 1)
            return &piece->bands[i];
    return &piece->bands[0];
}

static void add_stranded(const struct builder *builder, double stitches, double *mm)
{
    const struct plan_piece *piece = builder->piece;
    const struct plan_band *band = band_of(piece);
    int64_t all = 0;

    for (int i = 0; i < band->ncolours; i++)
        all += band->colours[i].piece_stitches;
    for (int i = 0; i < band->ncolours && all > 0; i++) {
        const struct plan_colour *colour = &band->colours[i];

        mm[colour->yarn] += plan_worked_mm(builder, colour->yarn, colour->piece_stitches,
                                           colour->piece_float_stitches, colour->piece_catches) *
                            stitches / (double)all;
    }
}

void plan_swatch_add(const struct builder *builder, int plain_yarn, double *mm)
{
    const struct project *project = builder->project;
    const struct plan_piece *piece = builder->piece;
    const struct plan_piece *own = builder->try_at ? builder->own : piece;

    if (piece->nbands == 0)
        return;
    add_stranded(builder, stitches_of(builder, &project->swatch, &own->gauge, &piece->gauge), mm);
    if (project->swatch_plain.is_there)
        mm[plain_yarn] +=
            piece->loop.yarn[plain_yarn].plain_loop_mm *
            stitches_of(builder, &project->swatch_plain, &own->plain_gauge, &piece->plain_gauge);
}

/* --- what is said of them ------------------------------------------------------------------------ */

void plan_swatches_set(struct builder *builder, struct plan *plan)
{
    const struct project *project = builder->project;

    if (builder->piece->nbands == 0)
        return;
    plan->swatches[plan->nswatches++] = read_swatch(builder, &project->swatch);
    if (project->swatch_plain.is_there)
        plan->swatches[plan->nswatches++] = read_swatch(builder, &project->swatch_plain);
}
