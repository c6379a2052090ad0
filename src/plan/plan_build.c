/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The model, called in order; what is sealed here is all that any output says.
 */
#include "builder.h"

#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "base/text.h"

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

struct rational builder_exact(const struct builder *builder, const char *key)
{
    return rational_make((int64_t)llround(builder_value(builder, key) * 1e6), 1000000);
}

int builder_steek_sts(const struct builder *builder)
{
    return builder->project->steek.given ? builder->project->steek.value : 0;
}

const char *builder_length(const struct builder *builder, double inches)
{
    const struct given_choice *units = &builder->project->units;
    struct text text = text_create(builder->work->arena);

    if (units->given && units->value == UNIT_CM)
        text_length_cm(&text, inches);
    else
        text_length(&text, inches);
    return text.bytes;
}

const char *builder_fine_length(const struct builder *builder, double mm)
{
    const double mm_per_in = 25.4;
    const struct given_choice *units = &builder->project->units;
    struct text text = text_create(builder->work->arena);
    bool metric = units->given && units->value == UNIT_CM;

    text_decimal(&text, metric ? mm : mm / mm_per_in, metric ? 1 : 3);
    text_add(&text, metric ? " mm (" : " in (");
    text_decimal(&text, metric ? mm / mm_per_in : mm, metric ? 3 : 1);
    text_add(&text, metric ? " in)" : " mm)");
    return text.bytes;
}

bool builder_is_open(const struct builder *builder)
{
    return builder->project->worked.value == WORKED_FLAT || builder_steek_sts(builder) > 0;
}

int builder_selvedge_sts(const struct builder *builder)
{
    const struct project *project = builder->project;

    return project->selvedge.given ? 2 * project->selvedge.value : 0;
}

int builder_needle_edges(const struct builder *builder)
{
    return builder_selvedge_sts(builder) + builder_steek_sts(builder);
}

int builder_edges_in_measure(const struct builder *builder)
{
    return builder->project->worked.value == WORKED_FLAT ? builder_selvedge_sts(builder) : 0;
}

int builder_knitted_yarn(const struct builder *builder, int yarn)
{
    const struct given_yarn *over = &builder->project->yarns[yarn].duplicate_over;

    return over->given ? over->index : yarn;
}

static int main_yarn(const struct project *project)
{
    if (project->cast_on.yarn.given)
        return project->cast_on.yarn.index;
    for (int i = 0; i < project->nyarns; i++)
        if (!project->yarns[i].duplicate_over.given)
            return i;
    return 0;
}

static void sum_up(struct builder *builder)
{
    struct plan_piece *piece = builder->piece;
    const struct plan_band *first = piece->bands;
    double half = piece->gauge.gauge.stitches.half_width;

    for (int i = 0; i < piece->nbands; i++) {
        const struct plan_band *band = &piece->bands[i];

        piece->bands_height_in += band->height_in;
        piece->catches += band->catches_piece;
        piece->catches_fewest += band->worked_fewest * band->upwards;
        piece->over_limit += band->worked_over_limit * band->upwards;
        if (band->worked_longest_sts > piece->longest_sts)
            piece->longest_sts = band->worked_longest_sts;
    }
    piece->longest_in = piece->longest_sts / piece->gauge.per_in;
    piece->too_long = piece->over_limit > 0;
    piece->very_long = piece->longest_sts >= builder_threshold(builder, "float_long_stitches");
    piece->finished_low_in = first->finished_in / (1.0 + half);
    piece->finished_high_in = half < 1.0 ? first->finished_in / (1.0 - half) : (double)NAN;
}

bool builder_build_piece(struct builder *builder)
{
    static void (*const stages[])(struct builder *) = {
        plan_gauge_set,   plan_fit_gauge,   plan_loop_set,   plan_limit_set,  plan_bands_size,
        plan_cast_on_set, plan_steps_set,   plan_fit_say,    plan_sewn_set,   plan_bands_fill,
        plan_yarns_set,   plan_range_set,  plan_stretch_set, plan_borders_set, plan_centre_set, plan_fronts_set,
    };

    builder->part_count = arena_alloc(builder->work->arena, (size_t)builder->project->nparts,
                                      sizeof *builder->part_count);
    builder->rest_count = arena_alloc(builder->work->arena, (size_t)builder->project->nparts,
                                      sizeof *builder->rest_count);
    builder->fits = arena_alloc(builder->work->arena, (size_t)builder->project->nparts,
                                sizeof *builder->fits);
    builder->main_yarn = main_yarn(builder->project);
    for (size_t i = 0; i < sizeof stages / sizeof *stages; i++) {
        stages[i](builder);
        if (builder->failed)
            return false;
    }
    sum_up(builder);
    return true;
}

enum float_verdict builder_verdict(const struct plan_piece *own, const struct plan_piece *there)
{
    if (!there->too_long)
        return VERDICT_NONE_LONG;
    if (!own->too_long)
        return VERDICT_TOO_LONG;
    return there->longest_in > own->longest_in ? VERDICT_LONGER : VERDICT_NOT_LONGER;
}

static void build_tries(const struct builder *own, struct plan *plan)
{
    const struct project *project = own->project;

    plan->ntries = project->ntries;
    plan->tries =
        arena_alloc(own->work->arena, (size_t)project->ntries, sizeof *plan->tries);
    for (int i = 0; i < project->ntries; i++) {
        struct plan_try *try_out = &plan->tries[i];
        struct builder builder = {.work = own->work,
                                  .project = project,
                                  .charts = own->charts,
                                  .try_at = &project->tries[i],
                                  .own = &plan->piece,
                                  .own_part_count = own->part_count,
                                  .used = own->used,
                                  .piece = &try_out->piece};

        try_out->name = project->tries[i].name;
        try_out->fits = builder_build_piece(&builder);
        try_out->why = builder.why;
        if (try_out->fits)
            try_out->verdict = builder_verdict(&plan->piece, &try_out->piece);
    }
}

/* The rows of the table this plan's numbers rest on, in table order. */
static void plan_basis(const struct builder *builder, struct plan *plan)
{
    const struct tables *tables = builder->work->tables;
    int n = tables_allowance_count(tables);

    plan->basis = arena_alloc(builder->work->arena, (size_t)n, sizeof *plan->basis);
    for (int i = 0; i < n; i++)
        if (builder->used[i])
            plan->basis[plan->nbasis++] = tables_allowance_at(tables, i);
}

static void copy_notes(const struct builder *builder, struct plan *plan)
{
    int n = 0;
    const struct diag *all = diagnostics_sorted(builder->work->diagnostics, &n);
    struct diag *notes = arena_alloc(builder->work->arena, (size_t)n, sizeof *notes);

    for (int i = 0; i < n; i++)
        if (diag_code_severity(all[i].code) != DIAG_ERROR)
            notes[plan->nnotes++] = all[i];
    plan->notes = notes;
}

static void set_choices(const struct builder *builder, struct plan *plan)
{
    const struct project *project = builder->project;

    plan->title = project->title.given ? project->title.text : "";
    plan->project_name = project->source->name;
    plan->project = project;
    plan->make = project->make.given ? project->make.value : 1;
    plan->round = project->worked.value == WORKED_ROUND;
    plan->cm_first = project->units.given && project->units.value == UNIT_CM;
    plan->child = project->child.given && project->child.value;
    plan->height_wanted_in = project->height.given ? rational_double(project->height.in) : 0.0;
    plan->edges = project->edges.given ? (enum edge_habit)project->edges.value : EDGE_ANCHOR;
    plan->bind_off =
        project->bind_off.given ? (enum bind_off_kind)project->bind_off.value : BIND_OFF_STANDARD;
    plan->tail_in = project->tail.given ? rational_double(project->tail.in)
                                        : builder_value(builder, "tail_in");
    plan->carry_up_in = project->carry_up.given ? rational_double(project->carry_up.in)
                                                : builder_value(builder, "carry_wait_in");
    plan->stagger_cols = project->stagger.given ? project->stagger.value : 2;
    plan->clear_ends = project->clear_ends.given ? project->clear_ends.value : 1;
    plan->spare_catches = !project->spare_catches.given || project->spare_catches.value;
}

/* A limit longer than the one for children, asked for in a child's thing: said at the head. */
static void judge_child(const struct builder *builder, struct plan *plan)
{
    struct rational child_in = rational_make(
        (int64_t)llround(builder_threshold(builder, "float_limit_child_in") * 1e6), 1000000);
    char *what;

    if (!plan->child || rational_compare(builder->limit_in, child_in) <= 0)
        return;
    plan->child_limit_longer = true;
    what = arena_printf(builder->work->arena,
                        "Floats of up to %s are left loose in a child's thing.",
                        builder_length(builder, plan->piece.limit_in));
    diag_add(builder->work->diagnostics, DIAG_CHILD_LIMIT, builder->limit_at, what,
             arena_printf(builder->work->arena,
                          "Small fingers and toes catch in long strands: leave out the limit to have "
                          "%s, or line the inside.",
                          builder_length(builder, rational_double(child_in))));
}

/* A unit or a nought too many is likelier than so many balls in hand for so little. */
static void judge_have(const struct builder *builder, const struct plan *plan)
{
    const double usual_ball_m = 100.0; /* judgement, where the band is not known */
    double many = builder_threshold(builder, "have_many_times");

    for (int i = 0; i < plan->piece.nyarns; i++) {
        const struct plan_yarn *yarn = &plan->piece.yarns[i];
        double times = yarn->have_m / (yarn->length_m * (1.0 + yarn->margin));
        double ball_m = yarn->has_ball ? yarn->ball_m : usual_ball_m;

        if (!yarn->used || !(times > many) || !(yarn->have_m > many * ball_m))
            continue;
        diag_add(builder->work->diagnostics, DIAG_HAVE_UNUSUAL, builder->project->yarns[i].have.at,
                 arena_printf(builder->work->arena,
                              "The %s in hand would do for all this %.0f times over.", yarn->name,
                              floor(times)),
                 "Check the number and its unit: a weight like have = 37 g, a length like have = "
                 "150 m. If it is so much, leave it.");
    }
}

const struct plan *plan_build(struct work *work, const struct project *project,
                              const struct chart *const *charts)
{
    struct plan *plan = arena_alloc(work->arena, 1, sizeof *plan);
    struct builder builder = {
        .work = work, .project = project, .charts = charts, .piece = &plan->piece};

    builder.used = arena_alloc(work->arena, (size_t)tables_allowance_count(work->tables),
                               sizeof *builder.used);
    set_choices(&builder, plan);
    if (!builder_build_piece(&builder))
        return NULL;
    for (int i = 0; i < plan->piece.nsteps; i++)
        if (plan->piece.steps[i].kind == STEP_BIND_OFF)
            plan->bind_off_yarn = plan->piece.steps[i].yarn;
    judge_child(&builder, plan);
    judge_have(&builder, plan);
    plan_candidates_set(&builder, plan);
    plan_duplicates_set(&builder, plan);
    plan_exchanged_set(&builder, plan);
    plan_recolours_set(&builder, plan);
    plan_calls_set(&builder, plan);
    plan_swatches_set(&builder, plan);
    plan_weigh_in_set(&builder, plan);
    plan_weighed_set(&builder, plan);
    if (builder.failed)
        return NULL;
    build_tries(&builder, plan);
    plan_sizes_set(&builder, plan);
    plan_ladder_set(&builder, plan);
    plan_basis(&builder, plan);
    copy_notes(&builder, plan);
    return plan;
}
