/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What to do where the repeat of a band does not meet its measure, and the way round she picked.
 */
#include "plan/builder.h"

#include <math.h>

#include "base/arena.h"
#include "base/source.h"
#include "base/text.h"
#include "model/gauge/sizing.h"
#include "words/remedy.h"
#include "words/say.h"

static bool is_round(const struct builder *builder)
{
    return builder->project->worked.value == WORKED_ROUND;
}

static int count_bands(const struct builder *builder)
{
    int n = 0;

    for (int i = 0; i < builder->project->nparts; i++)
        n += builder->project->parts[i].kind == PART_BAND;
    return n;
}

static struct fit_question question_of(const struct builder *builder, struct rational target_sts,
                                       int repeat_sts, int side_sts)
{
    int edges = builder_edges_in_measure(builder);

    return (struct fit_question){
        .target_sts = target_sts,
        .per_in = builder->per_in,
        .repeat_sts = repeat_sts,
        .side_sts = side_sts + edges,
        .bands = count_bands(builder),
        .selvedge_sts = edges,
        .round = is_round(builder),
        .cm_first = builder_in_cm(builder),
        .gauge_reach = builder_threshold(builder, "needle_fit_ratio"),
        .near_ratio = builder_threshold(builder, "fit_near_ratio"),
        .far_ratio = builder_threshold(builder, "fit_far_ratio"),
        .redraw_ratio = builder_threshold(builder, "fit_redraw_ratio"),
        .plain_stays = builder->piece->plain_gauge.measured,
    };
}

/* The ways round there are, each with the name by which it is picked. */
static struct fit_answer *ask(const struct builder *builder, const struct fit_question *question)
{
    struct fit_answer *answer = fit_answer(builder->work, question);

    remedy_name(builder->work, answer);
    return answer;
}

/* Both neighbours have counts of their own: from and to them is shaped anyway. */
static bool is_shaped_already(const struct builder *builder, int part)
{
    const struct project *project = builder->project;
    bool below = project->cast_on.rib_rounds > 0 && project->cast_on.stitches_kind != RIB_SAME;
    bool above = false;

    for (int i = part - 1; i >= 0; i--)
        below = below || plan_part_counts_itself(builder, i);
    for (int i = part + 1; i < project->nparts && !above; i++)
        above = plan_part_counts_itself(builder, i);
    return below && above;
}

/* A rib that goes on in this part: no other count stands between them. */
static bool rib_goes_on(const struct builder *builder, int part)
{
    bool goes_on = builder_rib_is_same(builder);

    for (int i = 0; i < part; i++)
        goes_on = goes_on && !plan_part_counts_itself(builder, i);
    return goes_on;
}

/* What the rest keeps beside the band must suit a rib that goes on with it. */
static int64_t body_of(const struct builder *builder, const struct plan_band *band)
{
    int edges = builder_edges_in_measure(builder);

    if (!rib_goes_on(builder, band->part))
        return 0;
    return edges + builder_rib_nearest(builder, rational_sub(band->target_sts, rational_whole(edges)));
}

/* --- the way round she picked -------------------------------------------------------------- */

static const enum fit_kind remedy_kinds[] = {
    [REMEDY_ANOTHER_COUNT] = FIT_ANOTHER_COUNT, [REMEDY_SHAPE] = FIT_SHAPE,
    [REMEDY_PLAIN_COLUMNS] = FIT_PLAIN_COLUMNS, [REMEDY_TRIM] = FIT_TRIM_OR_PAD,
    [REMEDY_PAD] = FIT_TRIM_OR_PAD,
    [REMEDY_PART_REPEATS] = FIT_PART_REPEATS,   [REMEDY_PLAIN_SIDES] = FIT_PART_REPEATS,
    [REMEDY_ANOTHER_GAUGE] = FIT_ANOTHER_GAUGE, [REMEDY_REDRAW] = FIT_REDRAW};

static bool is_picked(const struct fit_remedy *remedy, const struct given_remedy *picked)
{
    if (remedy->kind != remedy_kinds[picked->word])
        return false;
    if (remedy->kind == FIT_TRIM_OR_PAD)
        return remedy->remake.twice == (picked->word == REMEDY_PAD);
    return remedy->kind != FIT_PART_REPEATS ||
           remedy->remake.over_plain == (picked->word == REMEDY_PLAIN_SIDES);
}

/* The best of that kind, with so many repeats if they are said; else "another count" is another than
 * the one planned without it. NULL: none. */
static const struct fit_remedy *find_picked(const struct fit_answer *answer,
                                            const struct given_remedy *picked, bool any_repeats)
{
    for (int i = 0; i < answer->count; i++) {
        const struct fit_remedy *remedy = &answer->remedies[i];

        if (!is_picked(remedy, picked))
            continue;
        if (picked->repeats == 0 && remedy->kind == FIT_ANOTHER_COUNT && !answer->facts.question->weighed &&
            remedy->stitches == answer->facts.planned_sts)
            continue;
        if (any_repeats || picked->repeats == 0 || remedy->repeats == picked->repeats)
            return remedy;
    }
    return NULL;
}

/* Of those that only need to be written down, and pass what they must if any does: the nearest to the
 * measure, not the count that is planned; NULL: none. */
static const struct fit_remedy *find_nearest(const struct fit_answer *answer)
{
    const struct fit_remedy *nearest = NULL;

    for (int i = 0; i < answer->count; i++) {
        const struct fit_remedy *remedy = &answer->remedies[i];
        bool fails = remedy->must && !remedy->passes;

        if (remedy->kind == FIT_REDRAW || remedy->kind == FIT_ANOTHER_GAUGE ||
            remedy->stitches == answer->facts.planned_sts)
            continue;
        if (!nearest || (nearest->must && !nearest->passes && !fails) ||
            (fails == (nearest->must && !nearest->passes) &&
             fabs(remedy->off_in) < fabs(nearest->off_in) - 1e-9))
            nearest = remedy;
    }
    return nearest;
}

static void refuse(struct builder *builder, const struct part *part, const char *what, const char *todo)
{
    builder_fault(builder, DIAG_REMEDY_IMPOSSIBLE, part->remedy.at, what, todo);
}

static void fault_reason(struct builder *builder, const struct part *part, const struct fit_answer *answer)
{
    struct arena *arena = builder->work->arena;
    enum remedy_word word = part->remedy.word;
    const struct fit_remedy *nearest = find_nearest(answer);

    refuse(builder, part,
           arena_printf(arena, "This way round does not help %s: %s.", part->name,
                        remedy_why_not(builder->work, &answer->facts, remedy_kinds[word],
                                    word == REMEDY_PAD)),
           nearest ? arena_printf(arena,
                                  "What comes nearest: remedy = %s. The plan without this line "
                                  "lists them all.",
                                  nearest->choice)
                   : "Take this line out: the plan lists what there is.");
}

/* None at all: it needs none, or nothing suits those that share its count. */
static void fault_none(struct builder *builder, const struct part *part, const struct fit_answer *answer)
{
    struct arena *arena = builder->work->arena;

    if (answer->facts.above == 0 && answer->facts.question->nshared > 0)
        refuse(builder, part,
               arena_printf(arena, "There is no count at all that suits %s and the bands that share "
                                   "it.", part->name),
               "Take count = as below out: then it is shaped between them.");
    else
        refuse(builder, part,
               arena_printf(arena, "%s meets its measure as it is: nothing is to be got round.",
                            part->name),
               "Take this line out.");
}

static void fault_remedy(struct builder *builder, const struct part *part,
                         const struct fit_answer *answer)
{
    struct arena *arena = builder->work->arena;
    const struct fit_remedy *same = find_picked(answer, &part->remedy, true);
    const char *repeats = say_count(arena, part->remedy.repeats, "repeat", "repeats");

    if (answer->count == 0)
        fault_none(builder, part, answer);
    else if (same && part->remedy.word == REMEDY_ANOTHER_COUNT)
        refuse(builder, part,
               arena_printf(arena, "%s in %s is no count beside its measure.", repeats, part->name),
               arena_printf(arena,
                            "To have it all the same, write repeats = %d in place of this line.",
                            part->remedy.repeats));
    else if (same)
        refuse(builder, part,
               arena_printf(arena, "This way round does not come to %s in %s.", repeats, part->name),
               arena_printf(arena, "The nearest that does: remedy = %s.", same->choice));
    else
        fault_reason(builder, part, answer);
}

static void fault_redraw(struct builder *builder, const struct part *part, const struct plan_band *band,
                         const struct fit_remedy *remedy)
{
    refuse(builder, part,
           arena_printf(builder->work->arena,
                        "The motif of %s is still to be drawn %d columns wide.", part->name,
                        remedy->repeat_sts),
           arena_printf(builder->work->arena,
                        "Take this line out and type: %s --columns %d -o NEW.chart. Then write "
                        "chart = NEW.chart%s.",
                        builder->fits[band->part]->facts.question->redraw, remedy->repeat_sts,
                        band->begin > 0 ? ", and take begin with out: the new chart begins there already"
                                        : ""));
}

/* The chart as this way round has it worked, yarns sewn on with it. */
static void remake_band(struct builder *builder, struct plan_band *band,
                        const struct fit_remedy *remedy)
{
    struct remake_band drawn = {band->drawn, band->left, band->right, (int)remedy->repeats}, changed;

    drawn.left.nrows = drawn.right.nrows = band->rows;
    if (!remake_apply(builder->work, &remedy->remake, &band->knitted, &drawn, &changed)) {
        builder_fault(builder, DIAG_REMEDY_IMPOSSIBLE,
                      builder->project->parts[band->part].remedy.at,
                      "The chart would be larger than can be planned that way.",
                      "Choose another way round.");
        return;
    }
    band->drawn = changed.repeat;
    band->left = changed.left;
    band->right = changed.right;
    band->knitted = plan_knitted_grid(builder, &band->drawn);
    band->left_knitted = plan_knitted_grid(builder, &band->left);
    band->right_knitted = plan_knitted_grid(builder, &band->right);
    band->repeat_sts = band->drawn.ncols;
    band->side_sts = band->left.ncols + band->right.ncols;
}

static void follow_remedy(struct builder *builder, struct plan_band *band)
{
    const struct part *part = &builder->project->parts[band->part];
    const struct fit_answer *answer = builder->fits[band->part];
    const struct fit_remedy *remedy = find_picked(answer, &part->remedy, builder->try_at != NULL);

    if (part->remedy.word == REMEDY_ANOTHER_GAUGE) {
        if (builder->gauge_remedy && builder->gauge_part == band->part)
            band->remedy = builder->gauge_remedy;
        return; /* the gauge is changed already */
    }
    if (!remedy && builder->try_at)
        return; /* at that gauge it needs none, or it does not help: whole repeats */
    if (!remedy)
        fault_remedy(builder, part, answer);
    else if (remedy->kind == FIT_REDRAW)
        fault_redraw(builder, part, band, remedy);
    if (builder->failed)
        return;
    band->remedy = remedy;
    if (remedy->remake.kind != REMAKE_NOTHING)
        remake_band(builder, band, remedy);
    if (!builder->failed)
        plan_band_set_count(builder, band, remedy->stitches);
}

/* --- far from the measure -------------------------------------------------------------------- */

/* Solved together or shared, the count is not that of its own nearest repeats: that says it itself. */
static bool is_nearest_own(const struct plan_band *band, const struct fit_question *question)
{
    return band->stitches + (int64_t)question->side_sts ==
           sizing_nearest_multiple(band->target_sts, band->repeat_sts, question->side_sts);
}

static void caution_far(struct builder *builder, const struct plan_band *band,
                        const struct fit_answer *answer)
{
    const struct part *part = &builder->project->parts[band->part];
    double off = band->finished_in / band->wanted_in - 1.0;
    struct arena *arena = builder->work->arena;
    const struct fit_remedy *nearest = find_nearest(answer);

    if (builder->try_at || part->repeats.value > 0 || part->remedy.word != REMEDY_NONE ||
        !is_nearest_own(band, answer->facts.question) ||
        fabs(off) <= builder_threshold(builder, "fit_far_ratio"))
        return;
    diag_add(builder->work->diagnostics, DIAG_MEASURE_FAR, part->at,
             arena_printf(arena,
                          "No whole number of repeats comes near the measure of %s: the nearest is "
                          "%s, %.0f %% %s than %s.",
                          part->name, builder_length(builder, band->finished_in), 100.0 * fabs(off),
                          off > 0 ? "more" : "less", builder_length(builder, band->wanted_in)),
             nearest && fabs(nearest->off_in) < fabs(band->finished_in - band->wanted_in)
                 ? arena_printf(arena, "What comes nearest: remedy = %s.", nearest->choice)
                 : "A smaller motif comes nearer.");
}

/* "strandwise resize sock.ini --band ripple"; at another gauge than her own "--gauge '32 sts, 38 rows' --over '4 in'"
 * too. */
static const char *redraw_words(const struct builder *builder, const struct part *part)
{
    bool cm = builder_in_cm(builder);
    double over_in = cm ? 10 / 2.54 : 4;
    struct text text = text_create(builder->work->arena);

    text_addf(&text, "strandwise resize '%s' --band '%s'", builder->project->source->name, part->name);
    if (!builder->try_at)
        return text.bytes;
    text_add(&text, " --gauge '");
    text_decimal(&text, rational_double(builder->per_in) * over_in, 2);
    text_add(&text, " sts, ");
    text_decimal(&text, rational_double(builder->rows_per_in) * over_in, 2);
    text_addf(&text, " rows' --over '%s'", cm ? "10 cm" : "4 in");
    return text.bytes;
}

static bool is_as_below(const struct part *part)
{
    return part->count.value == COUNT_AS_BELOW;
}

static struct count_rule rule_of(const struct builder *builder, int part)
{
    const struct chart *chart = builder->charts[part];
    int sides = is_round(builder) ? 0 : chart->left.ncols + chart->right.ncols;

    return (struct count_rule){chart->repeat.ncols, sides + builder_edges_in_measure(builder), -1};
}

/* The bands that take their count from this one, and whether its count may be solved with others. */
static void ask_shared(const struct builder *builder, int part, struct fit_question *question)
{
    const struct project *project = builder->project;
    struct count_rule *rules =
        arena_alloc(builder->work->arena, (size_t)project->nparts + 1, sizeof *rules);

    for (int i = plan_next_taker(builder, part + 1); i < project->nparts; i = plan_next_taker(builder, i + 1))
        rules[question->nshared++] = rule_of(builder, i);
    question->shared = rules;
    question->rib_goes_on = rib_goes_on(builder, part);
    question->weighed = project->counts.value == COUNTS_TOGETHER &&
                        project->parts[part].remedy.word != REMEDY_NONE;
}

/* The next band that takes its count from this one and cannot have so many stitches, edges and all. */
static const struct part *sharer_unlike(const struct builder *builder, int part, int64_t stitches)
{
    const struct project *project = builder->project;

    for (int i = plan_next_taker(builder, part + 1); i < project->nparts; i = plan_next_taker(builder, i + 1)) {
        struct count_rule rule = rule_of(builder, i);

        if (!sizing_suits(&rule, stitches))
            return &project->parts[i];
    }
    return NULL;
}

/* She picked what the bands that share the count cannot have: true, and said. */
static bool fault_shared(struct builder *builder, const struct plan_band *band,
                         const struct fit_answer *answer)
{
    const struct part *part = &builder->project->parts[band->part];
    struct arena *arena = builder->work->arena;
    struct fit_question *alone = arena_alloc(arena, 1, sizeof *alone);
    const struct fit_remedy *picked, *nearest = find_nearest(answer);
    const struct part *unlike;
    long long stitches;

    if (part->remedy.word == REMEDY_NONE || answer->facts.question->nshared == 0 || builder->try_at ||
        find_picked(answer, &part->remedy, false))
        return false;
    *alone = *answer->facts.question;
    alone->nshared = 0;
    picked = find_picked(ask(builder, alone), &part->remedy, false);
    unlike = picked ? sharer_unlike(builder, band->part, picked->stitches) : NULL;
    if (!unlike)
        return false;
    stitches = picked->stitches - alone->selvedge_sts;
    refuse(builder, part,
           arena_printf(arena,
                        "%s and %s are to share a count, and the repeats of %s do not go into "
                        "%lld stitches.",
                        part->name, unlike->name, unlike->name, stitches),
           nearest ? arena_printf(arena, "What suits both: remedy = %s.", nearest->choice)
                   : "Take this line out: their counts are then solved together. Or take count "
                     "= as below out.");
    return true;
}

/* with_floats: asked too what each way round does to the floats, and whether it passes. */
static struct fit_question *question_alone(const struct builder *builder, const struct plan_band *band,
                                           bool with_floats)
{
    struct fit_question *question = arena_alloc(builder->work->arena, 1, sizeof *question);
    struct fit_chart *chart = arena_alloc(builder->work->arena, 1, sizeof *chart);

    *question = question_of(builder, band->target_sts, band->repeat_sts, band->side_sts);
    question->shaped_already = is_shaped_already(builder, band->part);
    question->body_sts = (int)body_of(builder, band);
    if (!with_floats)
        return question;
    *chart = (struct fit_chart){
        .repeat = &band->knitted,
        .left = &band->left_knitted,
        .right = &band->right_knitted,
        .upwards = band->upwards,
        .ends = builder_is_open(builder) ? plan_open_piece(builder, band).ends : FLOATS_RING,
        .limit_in = builder->limit_in,
        .catch_at = builder->piece->limit_catch_at,
    };
    question->chart = chart;
    plan_stretch_ask(builder, band, question);
    return question;
}

const struct fit_answer *plan_fit_alone(struct builder *builder, const struct plan_band *band)
{
    return ask(builder, question_alone(builder, band, true));
}

void plan_fit_set(struct builder *builder, struct plan_band *band)
{
    const struct part *part = &builder->project->parts[band->part];
    struct fit_question *question;
    struct fit_answer *answer;

    if (!band->has_target)
        return;
    question = question_alone(builder, band, !builder->try_at || part->remedy.word != REMEDY_NONE);
    ask_shared(builder, band->part, question);
    if (part->repeats.value > 0 || (part->remedy.word == REMEDY_NONE && !is_nearest_own(band, question))) {
        question->planned_sts = (int64_t)band->stitches + question->side_sts;
        question->weighed = question->weighed || part->repeats.value == 0;
    }
    question->redraw = redraw_words(builder, part);
    band->count_as_below = is_as_below(part);
    answer = builder->fits[band->part] = ask(builder, question);
    if (band->count_as_below)
        answer->count = 0;
    if (fault_shared(builder, band, answer))
        return;
    band->remedies = answer->remedies;
    band->nremedies = answer->count;
    band->fit = &answer->facts;
    caution_far(builder, band, answer);
    if (part->remedy.word != REMEDY_NONE)
        follow_remedy(builder, band);
}

/* --- another needle --------------------------------------------------------------------------- */

static void caution_gauge(struct builder *builder, const struct part *part,
                          const struct fit_remedy *remedy)
{
    bool stays = builder->piece->plain_gauge.measured, several = count_bands(builder) > 1;
    bool cm = builder_in_cm(builder);
    double per_in = remedy->gauge_per_in, per_10_cm = per_in * 10 / 2.54;

    diag_add(builder->work->diagnostics, DIAG_GAUGE_WANTED, part->remedy.at,
             arena_printf(builder->work->arena,
                          "%s for %.*f stitches to %s (%.*f to %s), which no swatch shows yet; rows are taken to "
                          "go with them.%s%s",
                          !stays    ? "All of this plan is"
                          : several ? "The bands of this plan are"
                                    : "The band of this plan is",
                          cm ? 1 : 2, cm ? per_10_cm : per_in, cm ? "10 cm" : "the inch",
                          cm ? 2 : 1, cm ? per_in : per_10_cm, cm ? "the inch" : "10 cm",
                          several ? " The other bands move with it, each to the counts nearest its measure "
                                    "there."
                                  : "",
                          stays ? " Rib and plain parts stay on the needle and the gauge of [swatch plain]: "
                                  "change needles before the band and after it."
                                : ""),
             "Knit, wash and measure a swatch on another needle, write its counts into [swatch], and take "
             "remedy = another gauge out. What was measured of the yarn is taken as it was.");
}

static void take_gauge(struct builder *builder, int part_index)
{
    const struct part *part = &builder->project->parts[part_index];
    const struct chart *chart = builder->charts[part_index];
    struct part_target target = plan_target_of(builder, part, builder->per_in);
    int sides = is_round(builder) ? 0 : chart->left.ncols + chart->right.ncols;
    struct fit_question question = question_of(builder, target.sts, chart->repeat.ncols, sides);
    struct fit_answer *answer;
    const struct fit_remedy *remedy;

    if (!target.known || !rational_is_value(target.sts) || rational_sign(target.sts) <= 0)
        return; /* said where the band is sized */
    ask_shared(builder, part_index, &question);
    answer = ask(builder, &question);
    remedy = find_picked(answer, &part->remedy, false);
    if (!remedy) {
        fault_remedy(builder, part, answer);
        return;
    }
    remedy_say(builder->work, answer);
    builder->gauge_remedy = remedy;
    builder->gauge_part = part_index;
    caution_gauge(builder, part, remedy);
    plan_gauge_scale(builder, rational_div(rational_whole(remedy->stitches), target.sts));
}

void plan_fit_gauge(struct builder *builder)
{
    const struct project *project = builder->project;

    for (int i = 0; i < project->nparts && !builder->try_at; i++) {
        const struct given_remedy *picked = &project->parts[i].remedy;

        if (picked->word != REMEDY_ANOTHER_GAUGE)
            continue;
        if (builder->gauge_remedy) {
            builder_fault(builder, DIAG_KEYS_CLASH, picked->at,
                          "Two bands ask for a gauge of their own, and a piece has one needle.",
                          "Keep one of them, and choose another way round for the other.");
            return;
        }
        take_gauge(builder, i);
        if (builder->failed)
            return;
    }
}
