/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What to do where the repeat of a band does not meet its measure, and the way round she picked.
 */
#include "builder.h"

#include <math.h>

#include "base/arena.h"
#include "base/source.h"
#include "base/text.h"
#include "model/sizing.h"

static bool is_round(const struct builder *builder)
{
    return builder->project->worked.value == WORKED_ROUND;
}

static bool in_cm(const struct builder *builder)
{
    return builder->project->units.given && builder->project->units.value == UNIT_CM;
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
    bool round = is_round(builder);

    return (struct fit_question){
        .target_sts = target_sts,
        .per_in = builder->per_in,
        .repeat_sts = repeat_sts,
        .side_sts = side_sts + (round ? 0 : builder_selvedge_sts(builder)),
        .bands = count_bands(builder),
        .selvedge_sts = round ? 0 : builder_selvedge_sts(builder),
        .round = round,
        .cm_first = in_cm(builder),
        .gauge_reach = builder_threshold(builder, "needle_fit_ratio"),
        .near_ratio = builder_threshold(builder, "fit_near_ratio"),
    };
}

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

/* Both neighbours have counts of their own: from and to them is shaped anyway. */
static bool is_shaped_already(const struct builder *builder, int part)
{
    const struct project *project = builder->project;
    bool below = project->cast_on.rib.given && project->cast_on.stitches_kind != RIB_SAME;
    bool above = false;

    for (int i = part - 1; i >= 0; i--)
        below = below || plan_part_counts_itself(builder, i);
    for (int i = part + 1; i < project->nparts && !above; i++)
        above = plan_part_counts_itself(builder, i);
    return below && above;
}

/* What the rest keeps beside the band must suit a rib that goes on with it. */
static int64_t body_of(const struct builder *builder, const struct plan_band *band)
{
    const struct cast_on *cast_on = &builder->project->cast_on;
    bool round = is_round(builder);
    int selvedge = round ? 0 : builder_selvedge_sts(builder);

    for (int i = 0; i < band->part; i++)
        if (plan_part_counts_itself(builder, i))
            return 0;
    if (!cast_on->rib.given || cast_on->stitches_kind != RIB_SAME)
        return 0;
    return selvedge + sizing_rib_nearest(rational_sub(band->target_sts, rational_whole(selvedge)),
                                         cast_on->rib_knit, cast_on->rib_purl, !round);
}

/* --- the way round she picked -------------------------------------------------------------- */

static bool is_picked(const struct fit_remedy *remedy, const struct given_remedy *picked)
{
    static const enum fit_kind kinds[] = {
        [REMEDY_ANOTHER_COUNT] = FIT_ANOTHER_COUNT, [REMEDY_SHAPE] = FIT_SHAPE,
        [REMEDY_PLAIN_COLUMNS] = FIT_PLAIN_COLUMNS, [REMEDY_TRIM] = FIT_TRIM_OR_PAD,
        [REMEDY_PAD] = FIT_TRIM_OR_PAD,
        [REMEDY_PART_REPEATS] = FIT_PART_REPEATS,   [REMEDY_PLAIN_SIDES] = FIT_PART_REPEATS,
        [REMEDY_ANOTHER_GAUGE] = FIT_ANOTHER_GAUGE, [REMEDY_REDRAW] = FIT_REDRAW};

    if (remedy->kind != kinds[picked->word])
        return false;
    if (remedy->kind == FIT_TRIM_OR_PAD)
        return remedy->remake.twice == (picked->word == REMEDY_PAD);
    return remedy->kind != FIT_PART_REPEATS ||
           remedy->remake.over_plain == (picked->word == REMEDY_PLAIN_SIDES);
}

/* The best of that kind, with so many repeats if they are said; NULL: none. */
static const struct fit_remedy *find_picked(const struct fit_remedy *remedies, int count,
                                            const struct given_remedy *picked, bool any_repeats)
{
    for (int i = 0; i < count; i++)
        if (is_picked(&remedies[i], picked) &&
            (any_repeats || picked->repeats == 0 || remedies[i].repeats == picked->repeats))
            return &remedies[i];
    return NULL;
}

static void fault_remedy(struct builder *builder, const struct part *part,
                         const struct fit_remedy *remedies, int count)
{
    struct arena *arena = builder->work->arena;
    const struct fit_remedy *same = find_picked(remedies, count, &part->remedy, true);

    if (count == 0)
        builder_fault(builder, DIAG_REMEDY_IMPOSSIBLE, part->remedy.at,
                      arena_printf(arena, "%s meets its measure as it is: nothing is to be got round.",
                                   part->name),
                      "Take this line out.");
    else if (same && part->remedy.word == REMEDY_ANOTHER_COUNT)
        builder_fault(builder, DIAG_REMEDY_IMPOSSIBLE, part->remedy.at,
                      arena_printf(arena, "%d repeat%s in %s is no count beside its measure.",
                                   part->remedy.repeats, part->remedy.repeats == 1 ? "" : "s", part->name),
                      arena_printf(arena,
                                   "To have it all the same, write repeats = %d in place of this line.",
                                   part->remedy.repeats));
    else if (same)
        builder_fault(builder, DIAG_REMEDY_IMPOSSIBLE, part->remedy.at,
                      arena_printf(arena, "This way round does not come to %d repeat%s in %s.",
                                   part->remedy.repeats, part->remedy.repeats == 1 ? "" : "s", part->name),
                      arena_printf(arena, "The nearest that does: remedy = %s.", same->choice));
    else
        builder_fault(builder, DIAG_REMEDY_IMPOSSIBLE, part->remedy.at,
                      arena_printf(arena,
                                   "This way round does not help %s: it comes no nearer the measure "
                                   "than whole repeats do, or too little is there to change.",
                                   part->name),
                      arena_printf(arena, "What comes nearest: remedy = %s. The plan lists them all.",
                                   remedies[0].choice));
}

static void fault_redraw(struct builder *builder, const struct part *part, const struct plan_band *band,
                         const struct fit_remedy *remedy)
{
    builder_fault(builder, DIAG_REMEDY_IMPOSSIBLE, part->remedy.at,
                  arena_printf(builder->work->arena,
                               "The motif of %s is still to be drawn %d columns wide.", part->name,
                               remedy->repeat_sts),
                  arena_printf(builder->work->arena,
                               "Type: %s --columns %d -o NEW.chart. Then write chart = NEW.chart, and "
                               "take this line out%s.",
                               builder->fits[band->part]->facts.question->redraw, remedy->repeat_sts,
                               band->begin > 0 ? ", and begin with: the new chart begins there already"
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
    const struct fit_remedy *remedy =
        find_picked(band->remedies, band->nremedies, &part->remedy, builder->try_at != NULL);

    if (part->remedy.word == REMEDY_ANOTHER_GAUGE) {
        if (builder->gauge_remedy && builder->gauge_part == band->part)
            band->remedy = builder->gauge_remedy;
        return; /* the gauge is changed already */
    }
    if (!remedy && builder->try_at)
        return; /* at that gauge it needs none, or it does not help: whole repeats */
    if (!remedy)
        fault_remedy(builder, part, band->remedies, band->nremedies);
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

static void caution_far(struct builder *builder, const struct plan_band *band)
{
    const struct part *part = &builder->project->parts[band->part];
    double off = band->finished_in / band->wanted_in - 1.0;
    struct arena *arena = builder->work->arena;
    int nearest = 0; /* of those that only need to be written down */

    while (nearest < band->nremedies && band->remedies[nearest].kind == FIT_REDRAW)
        nearest++;
    if (builder->try_at || part->repeats.given || part->remedy.given ||
        fabs(off) <= builder_threshold(builder, "fit_far_ratio"))
        return;
    diag_add(builder->work->diagnostics, DIAG_MEASURE_FAR, part->at,
             arena_printf(arena,
                          "No whole number of repeats comes near the measure of %s: the nearest is "
                          "%s, %.0f %% %s than %s.",
                          part->name, builder_length(builder, band->finished_in), 100.0 * fabs(off),
                          off > 0 ? "more" : "less", builder_length(builder, band->wanted_in)),
             nearest < band->nremedies
                 ? arena_printf(arena, "What comes nearest: remedy = %s.", band->remedies[nearest].choice)
                 : "A smaller motif comes nearer.");
}

/* "strandwise resize sock.ini --band ripple --gauge '32 sts, 38 rows' --over '4 in'" */
static const char *redraw_words(const struct builder *builder, const struct part *part)
{
    bool cm = in_cm(builder);
    double over_in = cm ? 10 / 2.54 : 4;
    struct text text = text_create(builder->work->arena);

    text_addf(&text, "strandwise resize '%s' --band '%s' --gauge '", builder->project->source->name,
              part->name);
    text_decimal(&text, rational_double(builder->per_in) * over_in, 2);
    text_add(&text, " sts, ");
    text_decimal(&text, rational_double(builder->rows_per_in) * over_in, 2);
    text_addf(&text, " rows' --over '%s'", cm ? "10 cm" : "4 in");
    return text.bytes;
}

static bool is_as_below(const struct part *part)
{
    return part->count.given && part->count.value == COUNT_AS_BELOW;
}

/* The next band that takes its count from this one and cannot have so many stitches (edges left
 * out); NULL: all can. */
static const struct part *sharer_unlike(const struct builder *builder, int part, int64_t stitches)
{
    const struct project *project = builder->project;

    for (int i = part + 1; i < project->nparts; i++) {
        const struct chart *chart = builder->charts[i];
        int sides;

        if (project->parts[i].kind == PART_PLAIN && !plan_part_counts_itself(builder, i))
            continue;
        if (project->parts[i].kind == PART_PLAIN || !is_as_below(&project->parts[i]))
            break;
        sides = is_round(builder) ? 0 : chart->left.ncols + chart->right.ncols;
        if (stitches <= sides || (stitches - sides) % chart->repeat.ncols != 0)
            return &project->parts[i];
    }
    return NULL;
}

/* Only what suits all that share its count stays. Returned: false when she picked another. */
static bool keep_shared(struct builder *builder, const struct plan_band *band,
                        struct fit_answer *answer)
{
    const struct part *part = &builder->project->parts[band->part];
    struct arena *arena = builder->work->arena;
    int edges = answer->facts.question->selvedge_sts, kept = 0, picked_sts = 0;
    const struct fit_remedy *picked =
        part->remedy.given
            ? find_picked(answer->remedies, answer->count, &part->remedy, builder->try_at != NULL)
            : NULL;
    const struct part *unlike = NULL;

    if (picked)
        picked_sts = (int)picked->stitches - edges;
    for (int i = 0; i < answer->count; i++)
        if (!is_as_below(part) &&
            !sharer_unlike(builder, band->part, answer->remedies[i].stitches - edges))
            answer->remedies[kept++] = answer->remedies[i];
    answer->count = kept;
    if (picked && !find_picked(answer->remedies, kept, &part->remedy, builder->try_at != NULL))
        unlike = sharer_unlike(builder, band->part, picked_sts);
    if (!unlike)
        return true;
    builder_fault(builder, DIAG_REMEDY_IMPOSSIBLE, part->remedy.at,
                  arena_printf(arena,
                               "%s and %s are to share a count, and the repeats of %s do not go into "
                               "%d stitches.",
                               part->name, unlike->name, unlike->name, picked_sts),
                  kept > 0 ? arena_printf(arena, "What suits both: remedy = %s.",
                                          answer->remedies[0].choice)
                           : "Take this line out: their counts are then solved together. Or take count "
                             "= as below out.");
    return false;
}

void plan_fit_set(struct builder *builder, struct plan_band *band)
{
    const struct part *part = &builder->project->parts[band->part];
    struct arena *arena = builder->work->arena;
    struct fit_question *question = arena_alloc(arena, 1, sizeof *question);
    struct fit_chart *chart = arena_alloc(arena, 1, sizeof *chart);
    struct fit_answer *answer;

    if (!band->has_target)
        return;
    *chart = chart_of(builder, band);
    *question = question_of(builder, band->target_sts, band->repeat_sts, band->side_sts);
    question->shaped_already = is_shaped_already(builder, band->part);
    question->body_sts = (int)body_of(builder, band);
    if (part->repeats.given)
        question->planned_sts = (int64_t)band->stitches + question->side_sts;
    if (!builder->try_at || part->remedy.given) /* of a try nobody asks what each does to the floats */
        question->chart = chart;
    if (!builder->try_at)
        plan_stretch_ask(builder, band, question);
    question->redraw = redraw_words(builder, part);
    band->count_as_below = is_as_below(part);
    answer = builder->fits[band->part] = fit_answer(builder->work, question);
    if (!keep_shared(builder, band, answer))
        return;
    band->remedies = answer->remedies;
    band->nremedies = answer->count;
    caution_far(builder, band);
    if (part->remedy.given)
        follow_remedy(builder, band);
}

/* --- another needle --------------------------------------------------------------------------- */

static void take_gauge(struct builder *builder, int part_index)
{
    const struct part *part = &builder->project->parts[part_index];
    const struct chart *chart = builder->charts[part_index];
    struct part_target target = plan_target_of(builder, part, builder->per_in);
    int sides = is_round(builder) ? 0 : chart->left.ncols + chart->right.ncols;
    struct fit_question question = question_of(builder, target.sts, chart->repeat.ncols, sides);
    const struct fit_remedy *remedies, *remedy;
    int count = 0;

    if (!target.given || !rational_is_value(target.sts) || rational_sign(target.sts) <= 0)
        return; /* said where the band is sized */
    remedies = fit_remedies(builder->work, &question, &count);
    remedy = find_picked(remedies, count, &part->remedy, false);
    if (!remedy) {
        fault_remedy(builder, part, remedies, count);
        return;
    }
    builder->gauge_remedy = remedy;
    builder->gauge_part = part_index;
    diag_add(builder->work->diagnostics, DIAG_GAUGE_WANTED, part->remedy.at,
             arena_printf(builder->work->arena,
                          in_cm(builder)
                              ? "All of this plan is for %.1f stitches to 10 cm (%.2f to the inch), which "
                                "no swatch shows yet; rows are taken to go with them.%s"
                              : "All of this plan is for %.2f stitches to the inch (%.1f to 10 cm), which "
                                "no swatch shows yet; rows are taken to go with them.%s",
                          in_cm(builder) ? remedy->gauge_per_in * 10 / 2.54 : remedy->gauge_per_in,
                          in_cm(builder) ? remedy->gauge_per_in : remedy->gauge_per_in * 10 / 2.54,
                          count_bands(builder) > 1 ? " The other bands move with it, each to the "
                                                     "counts nearest its measure there."
                                                   : ""),
             "Knit, wash and measure a swatch on another needle, write its counts into [swatch], and take "
             "remedy = another gauge out. What was measured of the yarn is taken as it was.");
    plan_gauge_scale(builder, rational_div(rational_whole(remedy->stitches), target.sts));
}

void plan_fit_gauge(struct builder *builder)
{
    const struct project *project = builder->project;

    for (int i = 0; i < project->nparts && !builder->try_at; i++) {
        const struct given_remedy *picked = &project->parts[i].remedy;

        if (!picked->given || picked->word != REMEDY_ANOTHER_GAUGE)
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
