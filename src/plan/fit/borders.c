/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Where a plain part meets a band: the step between their widths, and what takes it away.
 */
#include "plan/builder.h"

#include <math.h>

#include "base/arena.h"
#include "model/gauge/sizing.h"
#include "words/shaping.h"

static void by_needle(const struct builder *builder, struct plan_border *border)
{
    border->needle_per_in = border->band_sts / border->plain_in;
    border->needle_part = border->needle_per_in / builder->piece->gauge.per_in - 1.0;
    border->needle_near =
        fabs(border->needle_part) <= builder_threshold(builder, "needle_fit_ratio");
}

/* The shaping from the one to the other, in the order they are worked, between the edges; NULL: none. */
static const char *line_between(struct builder *builder, const struct plan_border *border, int plain_sts,
                                int band_sts)
{
    struct shaping shaping = {0};
    int edges = builder_edges_in_measure(builder);
    int from = (border->plain_below ? plain_sts : band_sts) - edges;
    int to = (border->plain_below ? band_sts : plain_sts) - edges;

    if (shaping_spread(builder->work, from, to, !builder_is_open(builder), &shaping) < 0 ||
        !shaping.line)
        return NULL;
    return arena_printf(builder->work->arena, "%s (%s)", shaping.line, shaping.sum);
}

/* Whole repeats nearest the count without a step, of all that share it, if they are nearer than those of
 * now. */
static void by_count(struct builder *builder, struct plan_border *border)
{
    const struct plan_band *band = &builder->piece->bands[border->band];
    struct rational even = rational_mul(
        rational_whole(border->plain_sts), rational_div(builder->per_in, builder->plain_per_in));
    int edges = builder_edges_in_measure(builder);
    int64_t fit;

    border->even_sts =
        sizing_even_sts(border->plain_sts, builder->piece->plain_gauge.per_in,
                        builder->piece->gauge.per_in);
    if (!rational_is_value(even))
        return;
    fit = edges + plan_together_nearest(builder, band, rational_sub(even, rational_whole(edges)),
                                        &border->fit_sharers);
    if (fit == edges || fit == border->band_sts || fit > 1000000)
        return;
    border->fit_stopped = fit < plan_stretch_least_sts(builder, band);
    border->fit_sts = (int)fit;
    border->fit_repeats = (border->fit_sts - edges - band->side_sts) / band->repeat_sts;
    border->fit_step_in =
        sizing_step_in(border->plain_sts, builder->piece->plain_gauge.per_in, border->fit_sts,
                       builder->piece->gauge.per_in);
    border->fit_step_part = border->fit_step_in / border->plain_in;
    border->fit_line = line_between(builder, border, border->plain_sts, border->fit_sts);
}

/* Stitches of the plain part as wide as the band, and the shaping between the two. */
static void by_plain(struct builder *builder, struct plan_border *border)
{
    struct rational even = rational_mul(
        rational_whole(border->band_sts), rational_div(builder->plain_per_in, builder->per_in));

    if (!rational_is_value(even) || rational_nearest(even) < 1 ||
        rational_nearest(even) == border->plain_sts)
        return;
    if (rational_nearest(even) <= builder_edges_in_measure(builder))
        return;
    border->plain_fit_sts = (int)rational_nearest(even);
    border->plain_fit_on_needle = border->plain_fit_sts + builder_needle_edges(builder) -
                                  builder_edges_in_measure(builder);
    border->plain_fit_line =
        line_between(builder, border, border->plain_fit_sts, border->band_sts);
}

static void set_border(struct builder *builder, struct plan_border *border)
{
    double plain_per_in = builder->piece->plain_gauge.per_in;
    double per_in = builder->piece->gauge.per_in;

    border->plain_in = border->plain_sts / plain_per_in;
    border->band_in = border->band_sts / per_in;
    border->step_in =
        sizing_step_in(border->plain_sts, plain_per_in, border->band_sts, per_in);
    border->step_part = border->step_in / border->plain_in;
    border->drawn_in =
        sizing_step_in(border->plain_sts, plain_per_in, border->plain_sts, per_in);
    border->drawn_part = border->drawn_in / border->plain_in;
    border->shaped = border->plain_sts != border->band_sts;
    border->slight =
        fabs(border->step_part) < builder_threshold(builder, "width_step_slight_ratio");
    if (border->slight || border->asked)
        return;
    by_needle(builder, border);
    by_count(builder, border);
    by_plain(builder, border);
}

static bool is_plain(const struct part *part)
{
    return part->kind == PART_PLAIN && part->stitches.value == 0;
}

/* A measure of its own, and another than the band's. */
static bool is_taper(const struct builder *builder, const struct part *plain, const struct plan_band *band)
{
    struct part_target target = plan_target_of(builder, plain, builder->plain_per_in);

    if (!rational_is_value(plain->around.in) && !rational_is_value(plain->width.in))
        return false;
    return !target.known || !band->has_target ||
           fabs(rational_double(target.wanted_in) - band->wanted_in) >
               builder_threshold(builder, "fit_near_ratio") * band->wanted_in;
}

void plan_borders_set(struct builder *builder)
{
    const struct project *project = builder->project;
    struct plan_piece *piece = builder->piece;
    struct plan_border *borders;
    int band = -1, edges = builder_edges_in_measure(builder);

    if (!piece->plain_gauge.measured)
        return;
    borders = arena_alloc(builder->work->arena, (size_t)project->nparts, sizeof *borders);
    for (int i = 0; i < project->nparts; i++) {
        const struct part *here = &project->parts[i];
        const struct part *below = i > 0 ? here - 1 : NULL;
        bool onto_plain = below && is_plain(below) && here->kind == PART_BAND;
        bool onto_band = below && below->kind == PART_BAND && is_plain(here);
        const struct part *plain = onto_plain ? below : here;
        struct plan_border *border = &borders[piece->nborders];

        band += here->kind == PART_BAND;
        if (!onto_plain && !onto_band)
            continue;
        piece->nborders++;
        *border = (struct plan_border){
            .plain_name = plain->name,
            .band = band,
            .plain_below = onto_plain,
            .asked = is_taper(builder, plain, &piece->bands[band]),
            .plain_sts = edges + builder->part_count[onto_plain ? i - 1 : i],
            .band_sts = edges + builder->part_count[onto_plain ? i : i - 1],
        };
        set_border(builder, border);
    }
    piece->borders = borders;
}
