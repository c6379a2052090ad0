/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The model, called in order; what is sealed here is all that any output says.
 */
#include "builder.h"

#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "base/text.h"

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

    plan->title = project->title.text ? project->title.text : "";
    plan->project_name = project->source->name;
    plan->project = project;
    plan->make = project->make.value;
    plan->round = project->worked.value == WORKED_ROUND;
    plan->cm_first = project->units.value == UNIT_CM;
    plan->child = project->child.value;
    plan->height_wanted_in = rational_is_value(project->height.in) ? rational_double(project->height.in) : 0.0;
    plan->edges = (enum edge_habit)project->edges.value;
    plan->bind_off = (enum bind_off_kind)project->bind_off.value;
    plan->tail_in = builder_tail_in(builder);
    builder_rest_on(builder, project->carry_up.allowance);
    plan->carry_up_in = rational_double(project->carry_up.in);
    plan->stagger_cols = project->stagger.value;
    plan->clear_ends = project->clear_ends.value;
    plan->spare_catches = project->spare_catches.value;
}

/* A limit longer than the one for children, asked for in a child's thing: said at the head. */
static void judge_child(const struct builder *builder, struct plan *plan)
{
    struct rational child_in = tables_exact(builder->work->tables, "float_limit_child_in");
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
    if (!builder_build_piece(&builder, PIECE_ALL))
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
    plan_tries_set(&builder, plan);
    plan_sizes_set(&builder, plan);
    plan_ladder_set(&builder, plan);
    plan_basis(&builder, plan);
    copy_notes(&builder, plan);
    return plan;
}

const struct plan *plan_build_ladder(struct work *work, const struct project *project,
                                     const struct chart *const *charts)
{
    return plan_build(work, plan_ladder_project(work, project), charts);
}
