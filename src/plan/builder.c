/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What all rooms of the plan ask while a piece is built.
 */
#include "builder.h"

#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "words/say.h"

void builder_fault(struct builder *builder, enum diag_code code, struct place at,
                   const char *what, const char *todo)
{
    builder->failed = true;
    if (builder->looking)
        return;
    if (builder->try_at)
        builder->why = what;
    else
        diag_add(builder->work->diagnostics, code, at, what, todo);
}

double builder_value(const struct builder *builder, const char *key)
{
    const struct tables *tables = builder->work->tables;

    for (int i = 0; i < tables_allowance_count(tables); i++)
        if (strcmp(tables_allowance_at(tables, i)->key, key) == 0)
            builder->used[i] = true;
    return tables_value(tables, key);
}

double builder_threshold(const struct builder *builder, const char *key)
{
    return tables_value(builder->work->tables, key);
}

double builder_may_be_out(const struct builder *builder, const char *key)
{
    return likely_sd_of_nine_in_ten(builder_value(builder, key));
}

void builder_rest_on(const struct builder *builder, const char *allowance)
{
    if (allowance)
        builder_value(builder, allowance);
}

double builder_tail_in(const struct builder *builder)
{
    builder_rest_on(builder, builder->project->tail.allowance);
    return rational_double(builder->project->tail.in);
}

int builder_steek_sts(const struct builder *builder)
{
    return builder->project->steek.value;
}

bool builder_in_cm(const struct builder *builder)
{
    return builder->project->units.value == UNIT_CM;
}

const char *builder_length(const struct builder *builder, double inches)
{
    return say_length(builder->work->arena, inches, builder_in_cm(builder));
}

const char *builder_fine_length(const struct builder *builder, double mm)
{
    return say_fine_length(builder->work->arena, mm, builder_in_cm(builder));
}

bool builder_is_open(const struct builder *builder)
{
    return builder->project->worked.value == WORKED_FLAT || builder_steek_sts(builder) > 0;
}

int builder_selvedge_sts(const struct builder *builder)
{
    const struct project *project = builder->project;

    return 2 * project->selvedge.value;
}

int builder_needle_edges(const struct builder *builder)
{
    return builder_selvedge_sts(builder) + builder_steek_sts(builder);
}

int builder_edges_in_measure(const struct builder *builder)
{
    return builder->project->worked.value == WORKED_FLAT ? builder_selvedge_sts(builder) : 0;
}

bool builder_rib_is_same(const struct builder *builder)
{
    const struct cast_on *cast_on = &builder->project->cast_on;

    return cast_on->rib_rounds > 0 && cast_on->stitches_kind == RIB_SAME;
}

struct count_rule builder_rib_rule(const struct builder *builder)
{
    const struct cast_on *cast_on = &builder->project->cast_on;

    return sizing_rib(cast_on->rib_knit, cast_on->rib_purl, builder->project->worked.value == WORKED_FLAT);
}

int64_t builder_rib_nearest(const struct builder *builder, struct rational target)
{
    const struct cast_on *cast_on = &builder->project->cast_on;

    return sizing_rib_nearest(target, cast_on->rib_knit, cast_on->rib_purl,
                              builder->project->worked.value == WORKED_FLAT);
}

int builder_knitted_yarn(const struct builder *builder, int yarn)
{
    int over = builder->project->yarns[yarn].duplicate_over.index;

    return over >= 0 ? over : yarn;
}

bool builder_is_within_gauge(const struct builder *builder, double finished_in, double wanted_in)
{
    double half = builder->piece->gauge.gauge.stitches.half_width;

    return half < 1.0 && finished_in / (1.0 + half) <= wanted_in &&
           wanted_in <= finished_in / (1.0 - half);
}
