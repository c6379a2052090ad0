/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The counts of all bands solved together: shown, or followed where she asks for it; and counts near a
 * measure that suit all bands which share one.
 */
#include <math.h>

#include "base/arena.h"
#include "together_parts.h"
#include "words/say.h"

struct count_rule joint_band_rule(const struct plan_band *band)
{
    return (struct count_rule){band->repeat_sts, band->side_sts, -1};
}

const struct part *joint_part(const struct joint *joint, int part)
{
    return &joint->builder->project->parts[part];
}

struct plan_band *joint_band(const struct builder *builder, int part)
{
    struct plan_band *band = builder->piece->bands;

    while (band->part != part)
        band++;
    return band;
}

/* --- the question ------------------------------------------------------------------------------ */

static void add_name(const struct joint *joint, struct joint_stage *stage, const char *name)
{
    stage->names[stage->nnames++] = name;
    stage->shown.names = say_list(joint->builder->work->arena, stage->names, stage->nnames);
}

static struct joint_stage *add_stage(struct joint *joint)
{
    struct arena *arena = joint->builder->work->arena;
    size_t room = (size_t)joint->builder->project->nparts + 1;
    struct joint_stage *stage = &joint->stages[joint->nstages++];

    stage->fixed_part = -1;
    stage->model.rules = arena_alloc(arena, room, sizeof *stage->model.rules);
    stage->model.targets = arena_alloc(arena, room, sizeof *stage->model.targets);
    stage->parts = arena_alloc(arena, room, sizeof *stage->parts);
    stage->names = arena_alloc(arena, room, sizeof *stage->names);
    if (joint->rib) {
        stage->model.rules[stage->model.nrules++] = builder_rib_rule(joint->builder);
        add_name(joint, stage, "rib");
    }
    joint->rib = false;
    return stage;
}

/* part -1: the rib */
static void add_fixed(struct joint *joint, const char *name, int part, int count)
{
    struct joint_stage *stage;

    joint->rib = false; /* its count is found, or refused, where the cast-on is set */
    stage = add_stage(joint);
    stage->model.fixed = count;
    stage->fixed_part = part;
    stage->shown.stands = true;
    add_name(joint, stage, name);
}

static void add_band(struct joint *joint, int part)
{
    const struct part *at = joint_part(joint, part);
    bool below = at->count.value == COUNT_AS_BELOW && joint->nstages > 0;
    const struct plan_band *band = joint_band(joint->builder, part);
    int64_t index = band - joint->builder->piece->bands;
    struct joint_stage *stage;
    int64_t pass_sts;

    if (at->repeats.value > 0 || at->remedy.word != REMEDY_NONE || !band->has_target) {
        add_fixed(joint, at->name, part, joint->builder->part_count[part]);
        return;
    }
    stage = below ? &joint->stages[joint->nstages - 1] : add_stage(joint);
    stage->model.rules[stage->model.nrules++] = joint_band_rule(band);
    stage->model.targets[stage->model.ntargets++] =
        rational_sub(band->target_sts, rational_whole(builder_edges_in_measure(joint->builder)));
    if (stage->model.least < band->repeat_sts + (int64_t)band->side_sts)
        stage->model.least = band->repeat_sts + (int64_t)band->side_sts;
    pass_sts = plan_stretch_least_sts(joint->builder, band);
    if (pass_sts > stage->model.pass) {
        stage->model.pass = pass_sts;
        stage->must_in = plan_stretch_must_in(joint->builder, band);
    }
    if (stage->model.least < pass_sts)
        stage->model.least = pass_sts;
    stage->parts[stage->nparts++] = part;
    stage->shown.bands |= index < 64 ? (uint64_t)1 << index : 0;
    add_name(joint, stage, at->name);
    joint->free_bands++;
    joint->must = joint->must || at->count.value == COUNT_AS_BELOW;
}

static struct joint gather(struct builder *builder)
{
    const struct project *project = builder->project;
    const struct cast_on *cast_on = &project->cast_on;
    struct joint joint = {.builder = builder,
                          .must = project->counts.value == COUNTS_TOGETHER,
                          .rib = builder_rib_is_same(builder)};

    joint.stages =
        arena_alloc(builder->work->arena, (size_t)project->nparts + 1, sizeof *joint.stages);
    if (cast_on->rib_rounds > 0 && cast_on->stitches_kind == RIB_COUNT && !builder->try_at)
        add_fixed(&joint, "rib", -1, cast_on->stitches.value);
    for (int i = 0; i < project->nparts; i++) {
        if (project->parts[i].kind == PART_BAND)
            add_band(&joint, i);
        else if (plan_part_counts_itself(builder, i))
            add_fixed(&joint, project->parts[i].name, i, builder->part_count[i]);
    }
    return joint;
}

bool joint_is_stopped(const struct joint_stage *stage, double reach)
{
    struct count_set counts = sizing_counts(stage->model.rules, stage->model.nrules);
    double low = 0.0, high = 0.0;
    int64_t below;

    for (int i = 0; i < stage->model.ntargets; i++) {
        double target = rational_double(stage->model.targets[i]);

        low = fmax(low, target * (1.0 - reach));
        high = i == 0 ? target * (1.0 + reach) : fmin(high, target * (1.0 + reach));
    }
    if (stage->model.pass == 0 || high < 1.0 || high >= INT32_MAX)
        return false;
    below = sizing_below(&counts, (int64_t)floor(high));
    return below > 0 && (double)below >= low;
}

/* --- shown and followed ------------------------------------------------------------------------ */

static void follow(const struct joint *joint, const struct together_set *set)
{
    for (int i = 0; i < joint->nstages; i++)
        for (int j = 0; j < joint->stages[i].nparts; j++) {
            int part = joint->stages[i].parts[j];

            plan_band_set_count(joint->builder, joint_band(joint->builder, part),
                                set->counts[i] + builder_edges_in_measure(joint->builder));
            joint->builder->part_count[part] = (int)set->counts[i];
        }
}

static bool is_planned(const struct joint *joint, const struct together_set *set)
{
    for (int i = 0; i < joint->nstages; i++)
        for (int j = 0; j < joint->stages[i].nparts; j++)
            if (joint->builder->part_count[joint->stages[i].parts[j]] != set->counts[i])
                return false;
    return true;
}

/* How far the parts whose count stands lie from measures of their own, all together. */
static double off_of_fixed_in(const struct joint *joint)
{
    const struct builder *builder = joint->builder;
    double off_in = 0.0;

    for (int i = 0; i < joint->nstages; i++) {
        const struct joint_stage *stage = &joint->stages[i];
        const struct part *part =
            stage->model.fixed > 0 && stage->fixed_part >= 0 ? joint_part(joint, stage->fixed_part) : NULL;
        bool plain = part && part->kind == PART_PLAIN;
        struct part_target target;

        if (!part || (plain && part->on_needle.value > 0))
            continue;
        target = plan_target_of(builder, part, plain ? builder->plain_per_in : builder->per_in);
        if (target.known)
            off_in += fabs((double)(stage->model.fixed + builder_edges_in_measure(joint->builder)) /
                               (plain ? builder->piece->plain_gauge : builder->piece->gauge).per_in -
                           rational_double(target.wanted_in));
    }
    return off_in;
}

static void show(struct joint *joint, const struct together_answer *answer, double reach)
{
    struct arena *arena = joint->builder->work->arena;
    struct plan_together *together = arena_alloc(arena, 1, sizeof *together);
    struct plan_stage *stages = arena_alloc(arena, (size_t)joint->nstages, sizeof *stages);
    struct plan_counts *sets = arena_alloc(arena, TOGETHER_BEST, sizeof *sets);
    double fixed_off_in = off_of_fixed_in(joint);

    for (int i = 0; i < joint->nstages; i++)
        stages[i] = joint->stages[i].shown;
    for (int i = 0; i < joint->nstages; i++) {
        stages[i].far = answer->trouble[i] == TOGETHER_FAR;
        stages[i].stopped = stages[i].far && joint_is_stopped(&joint->stages[i], reach);
    }
    for (int i = 0; i < answer->nsets; i++) {
        const struct together_set *set = &answer->sets[i];

        sets[i] = (struct plan_counts){
            set->counts, set->shaping_rounds, set->shaped_sts,
            rational_double(rational_div(set->off_sts, joint->builder->per_in)) + fixed_off_in,
            is_planned(joint, set)};
    }
    *together = (struct plan_together){joint->must, stages, joint->nstages, sets, answer->nsets, reach};
    joint->builder->piece->together = together;
}

void plan_together_set(struct builder *builder)
{
    struct joint joint = gather(builder);
    double reach = builder_threshold(builder, "together_reach_ratio");
    struct together_stage *stages = arena_alloc(builder->work->arena, (size_t)joint.nstages + 1,
                                                sizeof *stages);
    double most = builder_threshold(builder, "together_most_ratio");
    struct together_question question = {stages, joint.nstages, reach, most};
    struct together_answer answer;
    int status;

    if (joint.free_bands == 0 || (joint.free_bands < 2 && !joint.must) ||
        (builder->try_at && !joint.must))
        return;
    for (int i = 0; i < joint.nstages; i++)
        stages[i] = joint.stages[i].model;
    status = together_solve(builder->work, &question, &answer);
    if (joint.must && joint_has_trouble(&joint, &answer, reach, most))
        return;
    if (status < 0 && joint.must)
        builder_fault(builder, DIAG_PLAN_SIZE, builder->project->counts.at,
                      "These counts are past what can be solved together.",
                      "Check the measures, and the repeats of the charts.");
    if (status < 0)
        return; /* each band has its own count, and nothing can be said of all of them */
    if (joint.must)
        follow(&joint, &answer.sets[0]);
    /* The plain parts once more, beside the counts that bands now have. */
    if (joint.must && plan_plain_settle(builder)) {
        for (int i = 0; i < joint.nstages; i++)
            if (stages[i].fixed > 0 && joint.stages[i].fixed_part >= 0)
                stages[i].fixed = builder->part_count[joint.stages[i].fixed_part];
        if (together_solve(builder->work, &question, &answer) < 0)
            return;
        follow(&joint, &answer.sets[0]);
    }
    show(&joint, &answer, reach);
}

/* --- one count ------------------------------------------------------------------------------------ */

static bool is_as_below(const struct part *part)
{
    return part->kind == PART_BAND && part->count.value == COUNT_AS_BELOW;
}

/* The next part down with a count of its own; -1: none. */
static int counted_below(const struct builder *builder, int part)
{
    do
        part--;
    while (part >= 0 && !plan_part_counts_itself(builder, part));
    return part;
}

int plan_next_taker(const struct builder *builder, int from)
{
    const struct project *project = builder->project;

    while (from < project->nparts && !plan_part_counts_itself(builder, from))
        from++;
    return from < project->nparts && is_as_below(&project->parts[from]) ? from : project->nparts;
}

int64_t plan_together_taken(const struct builder *builder, int part, struct rational target,
                            struct rational reach)
{
    const struct project *project = builder->project;
    struct count_rule *rules = arena_alloc(builder->work->arena, (size_t)project->nparts, sizeof *rules);
    struct count_set counts;
    int64_t nearest;
    int n = 0;

    for (int i = plan_next_taker(builder, part + 1); i < project->nparts; i = plan_next_taker(builder, i + 1))
        rules[n++] = joint_band_rule(joint_band(builder, i));
    counts = sizing_counts(rules, n);
    nearest = sizing_nearest(&counts, target);
    return nearest > 0 && rational_compare(rational_distance(rational_whole(nearest), target), reach) <= 0 ? nearest
                                                                                                           : 0;
}

/* The lowest of those on the count of this part. */
static int lowest_of(const struct builder *builder, int part)
{
    int below = counted_below(builder, part);

    while (below >= 0 && is_as_below(&builder->project->parts[part])) {
        part = below;
        below = counted_below(builder, part);
    }
    return part;
}

int64_t plan_together_nearest(const struct builder *builder, const struct plan_band *band,
                              struct rational target, const char **sharers)
{
    const struct project *project = builder->project;
    struct arena *arena = builder->work->arena;
    struct count_rule *rules = arena_alloc(arena, (size_t)project->nparts + 1, sizeof *rules);
    const char **names = arena_alloc(arena, (size_t)project->nparts + 1, sizeof *names);
    int lowest = lowest_of(builder, band->part), n = 0, nnames = 0;
    struct count_set counts;

    if (counted_below(builder, lowest) < 0 && builder_rib_is_same(builder)) {
        rules[n++] = builder_rib_rule(builder);
        names[nnames++] = "rib";
    }
    for (int i = lowest; i < project->nparts; i++) {
        const struct plan_band *one;

        if (!plan_part_counts_itself(builder, i))
            continue;
        if (i > lowest && !is_as_below(&project->parts[i]))
            break;
        if (project->parts[i].kind != PART_BAND)
            continue;
        one = joint_band(builder, i);
        rules[n++] = joint_band_rule(one);
        if (one != band)
            names[nnames++] = one->name;
    }
    *sharers = nnames > 0 ? say_list(arena, names, nnames) : NULL;
    counts = sizing_counts(rules, n);
    return sizing_nearest(&counts, target);
}
