/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The counts of all parts: each band by its measure, then those that share one, then the rest.
 */
#include "plan/builder.h"

#include <stdlib.h>

#include "base/arena.h"

static void size_parts(struct builder *builder)
{
    const struct project *project = builder->project;
    struct plan_piece *piece = builder->piece;

    bool lowest = true;

    for (int i = 0; i < project->nparts; i++) {
        struct plan_band *band = &piece->bands[piece->nbands];

        builder->part_count[i] = builder->rest_count[i] = -1;
        if (!plan_part_counts_itself(builder, i))
            continue;
        if (project->parts[i].kind == PART_PLAIN)
            builder->part_count[i] = plan_plain_count(builder, &project->parts[i], lowest);
        lowest = false;
        if (project->parts[i].kind == PART_PLAIN)
            continue;
        piece->nbands++;
        plan_band_from_chart(builder, i, band);
        plan_band_size(builder, &project->parts[i], band);
        if (!builder->failed && project->parts[i].remedy.word != REMEDY_NONE)
            plan_fit_set(builder, band);
        builder->part_count[i] = band->stitches + band->side_sts;
    }
}

/* What is kept beside a band: its own count, unless she shapes before and after it. */
static void keep_counts(struct builder *builder)
{
    const struct plan_piece *piece = builder->piece;

    for (int i = 0; i < piece->nbands; i++) {
        const struct plan_band *band = &piece->bands[i];
        int change = band->remedy && band->remedy->kind == FIT_SHAPE ? band->remedy->increase : 0;

        if (change > 0 && band->remedy->before_is_decrease)
            change = -change;
        builder->part_count[band->part] = band->stitches + band->side_sts;
        builder->rest_count[band->part] = builder->part_count[band->part] - change;
    }
}

/* In another size or at another gauge a part's stitches go with the measure, and a band's with its repeats:
 * a part that is on the band's stitches in her own piece stays on them, where they are near. */
static void stay_on_bands(struct builder *builder)
{
    const struct project *project = builder->project;
    double reach = builder_threshold(builder, "together_reach_ratio");

    for (int i = 0; i < project->nparts && builder->own_part_count; i++) {
        static const int above_first[] = {1, -1};

        if (project->parts[i].kind != PART_PLAIN || project->parts[i].on_needle.value == 0)
            continue;
        for (int k = 0; k < 2; k++) {
            int band = i + above_first[k];

            if (band < 0 || band >= project->nparts || project->parts[band].kind != PART_BAND ||
                builder->own_part_count[band] != builder->own_part_count[i] ||
                abs(builder->part_count[band] - builder->part_count[i]) > reach * builder->part_count[i])
                continue;
            builder->part_count[i] = builder->part_count[band];
            break;
        }
    }
}

/* Bands, and plain parts with a count of their own; then the rest. */
void plan_bands_size(struct builder *builder)
{
    builder->piece->bands = arena_alloc(builder->work->arena, (size_t)builder->project->nparts + 1,
                                        sizeof *builder->piece->bands);
    size_parts(builder);
    if (!builder->failed)
        plan_plain_settle(builder);
    if (!builder->failed)
        plan_together_set(builder);
    for (int i = 0; i < builder->piece->nbands && !builder->failed; i++)
        if (builder->project->parts[builder->piece->bands[i].part].remedy.word == REMEDY_NONE)
            plan_fit_set(builder, &builder->piece->bands[i]); /* by the count that is planned */
    if (builder->failed)
        return;
    keep_counts(builder);
    stay_on_bands(builder);
    plan_counts_spread(builder);
}
