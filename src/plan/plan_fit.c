/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What to do where the repeat of a band does not meet its measure.
 */
#include "builder.h"

static bool is_round(const struct builder *builder)
{
    return builder->project->worked.value == WORKED_ROUND;
}

/* Of a try nobody asks what its remedies do to the floats. */
static struct fit_chart chart_of(const struct builder *builder, const struct plan_band *band)
{
    return (struct fit_chart){
        .repeat = &band->knitted,
        .left = &band->left_knitted,
        .right = &band->right_knitted,
        .upwards = band->upwards,
        .ends = builder_is_open(builder) ? plan_open_piece(builder, band).ends : FLOATS_RING,
        .limit_in = builder->limit_in,
        .catch_at = builder->piece->limit_catch_at,
    };
}

void plan_fit_set(struct builder *builder, struct plan_band *band)
{
    bool round = is_round(builder);
    struct fit_chart chart = chart_of(builder, band);
    struct fit_question question = {
        .target_sts = band->target_sts,
        .per_in = builder->per_in,
        .repeat_sts = band->repeat_sts,
        .side_sts = band->side_sts + (round ? 0 : builder_selvedge_sts(builder)),
        .round = round,
        .cm_first = builder->project->units.given && builder->project->units.value == UNIT_CM,
        .gauge_reach = builder_threshold(builder, "needle_fit_ratio"),
        .chart = builder->try_at ? NULL : &chart,
        .near_ratio = builder_threshold(builder, "fit_near_ratio"),
    };

    if (band->has_target)
        band->remedies = fit_remedies(builder->work, &question, &band->nremedies);
}
