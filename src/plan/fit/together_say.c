/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Counts that cannot be solved together, or only far from a measure: why, and what to write instead.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "model/gauge/sizing.h"
#include "together_parts.h"
#include "words/say.h"

enum { RULES_MOST = 8 };

/* --- what cannot be ---------------------------------------------------------------------------- */

static struct place place_of(const struct joint *joint, const struct joint_stage *stage)
{
    const struct project *project = joint->builder->project;
    const struct part *last = joint_part(joint, stage->nparts > 0 ? stage->parts[stage->nparts - 1] : 0);

    return last->count.said ? last->count.at : project->counts.said ? project->counts.at : last->at;
}

/* As wide as so many stitches are in a band. */
static const char *width_words(const struct joint *joint, double stitches)
{
    return builder_length(joint->builder, stitches / joint->builder->piece->gauge.per_in);
}

/* Side stitches nearest its own with which the last rule would agree with those before it; of two as
 * near the fewer; -1: none. */
static int sides_that_agree(const struct joint_stage *stage)
{
    struct count_rule rules[RULES_MOST];
    int n = stage->model.nrules, best = -1;
    int64_t own;

    if (n < 1 || n > RULES_MOST)
        return -1;
    memcpy(rules, stage->model.rules, (size_t)n * sizeof *rules);
    own = rules[n - 1].plus;
    for (int plus = 0; plus < own + rules[n - 1].multiple; plus++) {
        rules[n - 1].plus = plus;
        if (sizing_counts(rules, n).nresidues > 0 && (best < 0 || llabs(plus - own) < llabs(best - own)))
            best = plus;
    }
    return best;
}

static void fault_never(const struct joint *joint, const struct joint_stage *stage)
{
    struct arena *arena = joint->builder->work->arena;
    int sides = sides_that_agree(stage);
    const struct part *last = joint_part(joint, stage->parts[stage->nparts - 1]);
    bool rib = stage->model.nrules > stage->nparts;
    const char *part = last->count.value == COUNT_AS_BELOW
                           ? " Or take count = as below out: then it is shaped between them."
                       : rib ? " Or give the rib a count of its own, rib stitches = 95 % say."
                             : "";

    builder_fault(joint->builder, DIAG_BANDS_DISAGREE, place_of(joint, stage),
                  arena_printf(arena,
                               "There is no count at all that suits %s: their repeats and side "
                               "stitches leave different numbers over.",
                               stage->shown.names),
                  sides >= 0 ? arena_printf(arena, "With %s in its chart %s would agree with what is below it.%s",
                                            say_count(arena, sides, "side stitch", "side stitches"), last->name,
                                            part)
                             : arena_printf(arena, "Change a repeat or its side stitches.%s", part));
}

/* Two measures for one count that no count within reach can serve, whatever the repeats. */
static bool measures_clash(const struct joint *joint, const struct joint_stage *stage, double reach)
{
    struct rational low = rational_none(), high = rational_none();
    struct arena *arena = joint->builder->work->arena;
    double a, b;

    for (int i = 0; i < stage->model.ntargets; i++) {
        if (i == 0 || rational_compare(stage->model.targets[i], low) < 0)
            low = stage->model.targets[i];
        if (i == 0 || rational_compare(stage->model.targets[i], high) > 0)
            high = stage->model.targets[i];
    }
    a = rational_double(low);
    b = rational_double(high);
    if (stage->model.ntargets < 2 || a * (1 + reach) >= b * (1 - reach))
        return false;
    builder_fault(joint->builder, DIAG_BANDS_DISAGREE, place_of(joint, stage),
                  arena_printf(arena,
                               "%s are to have one count, but their measures ask for %.0f stitches, "
                               "%s, and for %.0f, %s.",
                               stage->shown.names, a, width_words(joint, a), b, width_words(joint, b)),
                  "Give them one measure, or the same per cent of it; or take count = as below out.");
    return true;
}

/* Returned: the count nearest the first target: one of the two there are, or the only one. */
static int64_t nearest_of(const struct together_answer *answer, int index, double target)
{
    int64_t below = answer->below[index], above = answer->above[index];

    return below > 0 && target - (double)below <= (double)above - target ? below : above;
}

/* Where the bands of a stage alone have a count within `most` of the measure, the rib stands in the way: a
 * rib near that count for rib stitches. 0: it is not the rib. */
static int64_t rib_instead(const struct joint *joint, const struct joint_stage *stage, double most,
                           int64_t *bands_sts)
{
    struct count_set bands = sizing_counts(stage->model.rules + 1, stage->model.nrules - 1);
    double target = rational_double(stage->model.targets[0]);

    if (stage->model.nrules == stage->nparts || bands.nresidues == 0 || bands.multiple > INT32_MAX)
        return 0;
    if (bands.least < stage->model.least)
        bands.least = stage->model.least;
    *bands_sts = sizing_nearest(&bands, stage->model.targets[0]);
    if (fabs((double)*bands_sts - target) > most * target)
        return 0;
    return builder_rib_nearest(joint->builder, rational_whole(*bands_sts));
}

/* "The rib, knit 7 purl 6, stands in the way: alone waves has 80 stitches. Write rib stitches = 78 ..." */
static const char *rib_words(const struct joint *joint, const struct joint_stage *stage, double most)
{
    const struct cast_on *cast_on = &joint->builder->project->cast_on;
    int64_t bands_sts, rib_sts = rib_instead(joint, stage, most, &bands_sts);

    if (rib_sts <= 0)
        return NULL;
    return arena_printf(joint->builder->work->arena,
                        "It is the rib, knit %d purl %d, that stands in the way: without it %lld stitches "
                        "would do. Write rib stitches = %lld, and it is shaped from there; or take "
                        "another rib.",
                        cast_on->rib_knit, cast_on->rib_purl, (long long)bands_sts, (long long)rib_sts);
}

static void fault_beyond(const struct joint *joint, const struct joint_stage *stage,
                         const struct together_answer *answer, int index, double most)
{
    struct arena *arena = joint->builder->work->arena;
    double target = rational_double(stage->model.targets[0]);
    int64_t nearest = nearest_of(answer, index, target);
    const struct part *last = joint_part(joint, stage->parts[stage->nparts - 1]);
    bool shared = last->count.value == COUNT_AS_BELOW;
    bool rib = stage->model.nrules > stage->nparts;
    const char *length = width_words(joint, (double)nearest);
    const char *instead = rib_words(joint, stage, most);

    builder_fault(joint->builder, DIAG_COUNT_BEYOND, place_of(joint, stage),
                  arena_printf(arena,
                               "The count that suits %s and is nearest %.0f stitches, %s, is %lld, %s: "
                               "more than %.0f %% off.",
                               stage->shown.names, target, width_words(joint, target),
                               (long long)nearest, length, most * 100.0),
                  instead ? instead :
                  arena_printf(arena,
                               "Its repeats%s must all go into one count, a multiple of %lld. Change "
                               "a repeat%s%s%s.",
                               rib ? " and the rib" : "", (long long)answer->multiple[index],
                               rib ? ", or the rib" : "",
                               (double)nearest < 2 * target
                                   ? arena_printf(arena, ", or let the measure be %s", length)
                                   : "",
                               shared ? ", or take count = as below out: then it is shaped between them"
                                      : ""));
}

/* It needs `first` stitches to pass what it must; stopped: counts nearer its measure suit and do not pass. */
static void caution_passing(const struct joint *joint, const struct joint_stage *stage, bool stopped, int64_t first)
{
    struct arena *arena = joint->builder->work->arena;
    double target = rational_double(stage->model.targets[0]);
    const char *measure =
        (double)stage->model.pass > target
            ? arena_printf(arena, ", and %.0f are its measure%s", target,
                           stopped ? ": counts that suit are there, but none near it passes" : "")
            : arena_printf(arena, ": of the counts near its measure of %.0f none that suits has so many", target);

    diag_add(joint->builder->work->diagnostics, DIAG_MEASURE_FAR, place_of(joint, stage),
             arena_printf(arena, "To pass %s, %s needs %lld stitches or more%s.",
                          builder_length(joint->builder, stage->must_in), stage->shown.names,
                          (long long)stage->model.pass, measure),
             arena_printf(arena,
                          "%lld is the %s count that does, %s. It is a model: pull a stranded swatch and write "
                          "what it gave%s.",
                          (long long)first, stopped ? "nearest" : "first", width_words(joint, (double)first),
                          stopped ? " (pulls), make the measure larger, or give the band a must pass of its own "
                                    "where less goes through"
                                  : ", or make the measure larger"));
}

static void caution_reach(const struct joint *joint, const struct joint_stage *stage,
                          const struct together_answer *answer, int index, double reach)
{
    struct arena *arena = joint->builder->work->arena;
    double target = rational_double(stage->model.targets[0]);
    int64_t below = answer->below[index], above = answer->above[index];
    bool stopped = joint_is_stopped(stage, reach);
    const char *instead = rib_words(joint, stage, reach);

    if (joint->builder->try_at)
        return;
    if (stopped || (double)stage->model.pass > target) {
        caution_passing(joint, stage, stopped, stopped && below >= stage->model.pass ? below : above);
        return;
    }
    if (!instead)
        instead = arena_printf(arena, "The nearest %s%lld, %s: change the measure, or a repeat.",
                               below == 0 ? "is "
                                          : arena_printf(arena, "are %lld, %s, and ", (long long)below,
                                                         width_words(joint, (double)below)),
                               (long long)above, width_words(joint, (double)above));
    diag_add(joint->builder->work->diagnostics, DIAG_MEASURE_FAR, place_of(joint, stage),
             arena_printf(arena,
                          "No count near %.0f stitches suits %s: it must be a multiple of %lld%s.", target,
                          stage->shown.names, (long long)answer->multiple[index],
                          stage->model.nrules > 0 && joint->builder->project->worked.value == WORKED_FLAT
                              ? ", side stitches added"
                              : ""),
             instead);
}

/* --- a count that stands, and a band that is to have it and cannot ----------------------------- */

/* Counts under and over the one that stands, within `most` of it, which would suit all that share it, its own
 * repeats or rib too; the nearer first, of equal ones the larger. Returned: how many. */
static int counts_that_suit(const struct joint *joint, const struct joint_stage *stage, double most,
                            int64_t counts[2])
{
    struct builder *builder = joint->builder;
    struct count_rule rules[RULES_MOST + 1];
    struct count_set all;
    int64_t fixed = stage->model.fixed, below, above;
    int n = stage->model.nrules, found = 0;

    if (n > RULES_MOST)
        return 0;
    memcpy(rules, stage->model.rules, (size_t)n * sizeof *rules);
    if (stage->fixed_part < 0)
        rules[n++] = builder_rib_rule(builder);
    else if (joint_part(joint, stage->fixed_part)->kind == PART_BAND)
        rules[n++] = joint_band_rule(joint_band(builder, stage->fixed_part));
    all = sizing_counts(rules, n);
    below = sizing_below(&all, fixed);
    above = sizing_above(&all, fixed);
    for (int side = 0; side < 2; side++) {
        int64_t count = (side == 0) == (above - fixed <= fixed - below) ? above : below;

        if (count > 0 && count != fixed && (double)llabs((long long)(count - fixed)) <= most * (double)fixed)
            counts[found++] = count;
    }
    return found;
}

/* "repeats = 20 under [band border], 120 stitches, 17 1/8 in (43.4 cm)" */
static const char *count_words(const struct joint *joint, const struct joint_stage *stage, int64_t count)
{
    struct arena *arena = joint->builder->work->arena;
    const struct part *part = stage->fixed_part < 0 ? NULL : joint_part(joint, stage->fixed_part);
    double per_in = part && part->kind == PART_BAND ? joint->builder->piece->gauge.per_in
                                                    : joint->builder->piece->plain_gauge.per_in;
    const char *length =
        builder_length(joint->builder, (double)(count + builder_edges_in_measure(joint->builder)) / per_in);
    const struct plan_band *band;

    if (!part)
        return arena_printf(arena, "rib stitches = %lld under [cast-on]", (long long)count);
    if (part->kind == PART_PLAIN)
        return arena_printf(arena, "stitches on needle = %lld under [plain %s]%s, %s",
                            (long long)count + builder_needle_edges(joint->builder), part->name,
                            part->on_needle.value > 0 ? "" : " in place of its measure", length);
    band = joint_band(joint->builder, stage->fixed_part);
    return arena_printf(arena, "repeats = %lld under [band %s]%s, %lld stitches, %s",
                        (long long)((count - band->side_sts) / band->repeat_sts), part->name,
                        part->remedy.word != REMEDY_NONE ? " in place of remedy" : "", (long long)count, length);
}

/* The easiest way round of the band above that comes to the count which stands; NULL: none, or others
 * would have to change too. */
static const struct fit_remedy *remedy_that_suits(const struct joint *joint, const struct joint_stage *stage,
                                                  int part)
{
    int64_t count = stage->model.fixed;
    const struct plan_band *band;
    const struct fit_answer *answer;

    for (int i = 0; i < stage->nparts; i++)
        if (stage->parts[i] != part && !sizing_suits(&stage->model.rules[i], count))
            return NULL;
    band = joint_band(joint->builder, part);
    if (!band->has_target)
        return NULL;
    answer = plan_fit_alone(joint->builder, band);
    for (int i = 0; i < answer->count; i++)
        if (answer->remedies[i].remake.kind != REMAKE_NOTHING &&
            answer->remedies[i].stitches - builder_edges_in_measure(joint->builder) == count)
            return &answer->remedies[i];
    return NULL;
}

/* What to write instead: other counts, a way round of the band above, or shaping between them. */
static const char *instead_words(const struct joint *joint, const struct joint_stage *stage, int above,
                                 double most)
{
    struct arena *arena = joint->builder->work->arena;
    const char *name = joint_part(joint, above)->name;
    const struct fit_remedy *remedy = remedy_that_suits(joint, stage, above);
    const char *words = "";
    int64_t counts[2];
    int n = counts_that_suit(joint, stage, most, counts);

    for (int i = 0; i < n; i++)
        words = arena_printf(arena, "%s%s%s", words, i == 0 ? "Write " : "; or ",
                             count_words(joint, stage, counts[i]));
    if (remedy)
        words = arena_printf(arena, "%s%s remedy = %s under [band %s] in place of count = as below", words,
                             n > 0 ? "; or" : "Write", remedy->choice, name);
    return arena_printf(arena, "%s%s count = as below out of [band %s]: then it is shaped between them.",
                        words, n > 0 || remedy ? "; or take" : "Take", name);
}

/* A band that takes the count of a part whose count stands, and does not go into it. */
static bool suits_fixed(const struct joint *joint, const struct joint_stage *stage, double most)
{
    struct arena *arena = joint->builder->work->arena;
    int64_t fixed = stage->model.fixed;

    for (int i = 0; fixed > 0 && i < stage->nparts; i++) {
        const struct count_rule *rule = &stage->model.rules[i];

        if (sizing_suits(rule, fixed))
            continue;
        builder_fault(joint->builder, DIAG_BANDS_DISAGREE, place_of(joint, stage),
                      arena_printf(arena, "%s are to share %lld stitches, but repeats of %lld%s do not go "
                                          "into them.",
                                   stage->shown.names, (long long)fixed, (long long)rule->multiple,
                                   rule->plus > 0 ? " and the side stitches" : ""),
                      instead_words(joint, stage, stage->parts[i], most));
        return false;
    }
    return true;
}

/* What is wrong with one stage, said. Returned: it has no count to follow. */
static bool has_trouble(const struct joint *joint, const struct together_answer *answer, int index, double reach,
                        double most)
{
    const struct joint_stage *stage = &joint->stages[index];
    enum together_trouble trouble = answer->trouble[index];

    if (!suits_fixed(joint, stage, most) || measures_clash(joint, stage, reach))
        return true;
    if (trouble == TOGETHER_HUGE)
        builder_fault(joint->builder, DIAG_PLAN_SIZE, place_of(joint, stage),
                      "These counts are past what can be solved together.",
                      "Check the measures, and the repeats of the charts.");
    else if (trouble == TOGETHER_NEVER && stage->nparts > 0)
        fault_never(joint, stage);
    else if (trouble == TOGETHER_BEYOND && stage->nparts > 0)
        fault_beyond(joint, stage, answer, index, most);
    else if (trouble == TOGETHER_FAR && stage->nparts > 0)
        caution_reach(joint, stage, answer, index, reach);
    return trouble == TOGETHER_HUGE || (stage->nparts > 0 && trouble != TOGETHER_FINE && trouble != TOGETHER_FAR);
}

bool joint_has_trouble(const struct joint *joint, const struct together_answer *answer, double reach,
                        double most)
{
    bool trouble = false;

    for (int i = 0; i < joint->nstages; i++)
        trouble = has_trouble(joint, answer, i, reach, most) || trouble;
    return trouble;
}
