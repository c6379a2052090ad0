/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How many stitches each part has, and the cast-on.
 */
#include "plan/builder.h"

#include <math.h>
#include <stdlib.h>

#include "base/arena.h"
#include "model/fit/remake.h"
#include "model/gauge/sizing.h"
#include "words/say.h"

struct part_target plan_target_of(const struct builder *builder, const struct part *part,
                                  struct rational per_in)
{
    const struct project *project = builder->project;
    bool flat = project->worked.value == WORKED_FLAT;
    const struct given_length *own = flat ? &part->width : &part->around;
    const struct given_length *measure = rational_is_value(own->in) ? own : flat ? &project->width : &project->around;
    const struct given_ease *ease = &part->ease;
    struct part_target target = {.known = rational_is_value(measure->in)};

    if (!target.known)
        return target;
    target.measure_in = measure->in;
    target.wanted_in = measure->in;
    if (part->shares_ease)
        target.wanted_in =
            rational_add(measure->in, rational_mul(ease->value, part->share.ratio));
    else if (rational_is_value(ease->value))
        target.wanted_in = sizing_finished_in(measure->in, ease->is_ratio, ease->value);
    target.sts = rational_mul(target.wanted_in, per_in);
    return target;
}

bool plan_target_is_sound(struct builder *builder, const struct part_target *target, struct place at)
{
    if (!target->known || (rational_is_value(target->sts) && rational_sign(target->sts) > 0))
        return true;
    if (rational_is_value(target->sts))
        builder_fault(builder, DIAG_VALUE_RANGE, at,
                      "With this ease nothing is left of the measure.",
                      "Give a smaller ease: minus 5 % to minus 10 % is snug.");
    else
        builder_fault(builder, DIAG_GAUGE_EXACT, at,
                      "Measure and gauge hold finer fractions than can be kept exactly.",
                      "Give eighths of an inch or tenths of a centimetre.");
    return false;
}

/* What would do: another measure, a gauge that hands can knit, a motif that is still one. */
static const char *wide_remedies(const struct builder *builder, const struct plan_band *band,
                                 int64_t count, int64_t plus)
{
    const int64_t motif_least = 2;
    struct arena *arena = builder->work->arena;
    double needed = (double)count / band->wanted_in;
    int64_t most = rational_floor(band->target_sts) - plus;
    const char *gauge = "", *motif = "";

    if (needed <= builder_threshold(builder, "gauge_high_sts_per_in"))
        gauge = arena_printf(arena, ", or for %s at this measure", say_gauge(arena, needed, 1, builder_in_cm(builder)));
    if (most >= motif_least)
        motif = arena_printf(arena, " Or use a motif of at most %lld stitches,", (long long)most);
    else if (plus > 0 && rational_floor(band->target_sts) >= motif_least)
        motif = " Or take stitches at its sides and edges out,";
    return arena_printf(arena,
                        "It asks for a measure of %s%s.%s or write repeats = 1 to have it all the same.",
                        builder_length(builder, (double)count / builder->piece->gauge.per_in), gauge,
                        *motif ? motif : " Take a larger measure,");
}

static void fault_wide(struct builder *builder, const struct plan_band *band, struct place at,
                       int64_t count)
{
    const int64_t measure_least_sts = 2;
    struct arena *arena = builder->work->arena;
    const struct part *part = &builder->project->parts[band->part];
    int64_t plus = count - band->repeat_sts;
    const char *sides =
        plus > 0 ? arena_printf(arena, " and %lld at its %s", (long long)plus,
                                plus == band->side_sts ? "sides" : band->side_sts == 0 ? "edges" : "sides and edges")
                 : "";

    if (rational_compare(band->target_sts, rational_whole(measure_least_sts)) < 0) {
        builder_fault(builder, DIAG_CHART_WIDE, rational_is_value(part->share.ratio) ? part->share.at : at,
                      arena_printf(arena, "The measure of %s comes to less than two stitches.", part->name),
                      rational_is_value(part->share.ratio) || rational_is_value(part->ease.value)
                          ? "Check the measure and its unit, the per cent of it, and the ease."
                          : "Check the measure and its unit.");
        return;
    }
    builder_fault(builder, DIAG_CHART_WIDE, at,
                  arena_printf(arena,
                               "The chart is wider than the piece: one repeat of %d stitches%s %s %s, and "
                               "%s is wanted.",
                               band->repeat_sts, sides, plus > 0 ? "are" : "is",
                               builder_length(builder, (double)count / builder->piece->gauge.per_in),
                               builder_length(builder, band->wanted_in)),
                  wide_remedies(builder, band, count, plus));
}

void plan_band_set_count(struct builder *builder, struct plan_band *band, int64_t total)
{
    const struct part *part = &builder->project->parts[band->part];
    int64_t plus = band->side_sts + builder_edges_in_measure(builder);

    if (total > PLAN_STITCHES_MAX) {
        builder_fault(builder, DIAG_PLAN_SIZE, part->at,
                      arena_printf(builder->work->arena, "This band would have %lld stitches.",
                                   (long long)total),
                      "A million stitches round is the most that is planned: check the measure "
                      "and its unit, or repeats.");
        return;
    }
    band->repeats = (int)((total - plus) / band->repeat_sts);
    band->stitches = band->repeats * band->repeat_sts;
    band->stitches_on_needle =
        band->stitches + band->side_sts + builder_selvedge_sts(builder) + builder_steek_sts(builder);
    band->finished_in = (double)total / builder->piece->gauge.per_in;
    if (!band->has_target)
        return;
    band->ease_ratio = band->finished_in / band->measure_in - 1.0;
    band->off_part = band->finished_in / band->wanted_in - 1.0;
    band->meets_target = fabs(band->finished_in - band->wanted_in) <=
                         builder_threshold(builder, "fit_near_ratio") * band->wanted_in;
}

/* Whole repeats: the number given, else the multiple nearest the exact target. */
void plan_band_size(struct builder *builder, const struct part *part, struct plan_band *band)
{
    struct part_target target = plan_target_of(builder, part, builder->per_in);
    int64_t plus = band->side_sts + builder_edges_in_measure(builder);
    int64_t count = band->repeat_sts + plus;

    if (!plan_target_is_sound(builder, &target, part->at))
        return;
    band->has_target = target.known;
    if (target.known) {
        band->target_sts = target.sts;
        band->measure_in = rational_double(target.measure_in);
        band->wanted_in = rational_double(target.wanted_in);
    }
    band->repeats_given = part->repeats.value > 0;
    if (part->repeats.value > 0) {
        plan_band_set_count(builder, band, (int64_t)part->repeats.value * band->repeat_sts + plus);
    } else if ((double)count >
               builder_threshold(builder, "chart_wide_ratio") * rational_double(target.sts)) {
        fault_wide(builder, band, part->chart[0].at, count);
    } else {
        plan_band_set_count(builder, band,
                            sizing_nearest_multiple(target.sts, band->repeat_sts, plus));
    }
}

/* A yarn sewn on is charted, but what lies under it is knitted. */
struct grid plan_knitted_grid(const struct builder *builder, const struct grid *drawn)
{
    size_t n = (size_t)drawn->nrows * (size_t)drawn->ncols;
    uint8_t under[256];
    struct grid knitted = *drawn;
    uint8_t *cell;
    bool same = true;

    for (int i = 0; i < 256; i++)
        under[i] = (uint8_t)i;
    for (int i = 0; i < builder->project->nyarns; i++) {
        under[i] = (uint8_t)builder_knitted_yarn(builder, i);
        same = same && under[i] == i;
    }
    if (same || n == 0)
        return knitted;
    cell = arena_alloc(builder->work->arena, n, 1);
    for (size_t i = 0; i < n; i++)
        cell[i] = under[drawn->cell[i]];
    knitted.cell = cell;
    return knitted;
}

void plan_band_from_chart(const struct builder *builder, int part_index, struct plan_band *band)
{
    const struct part *part = &builder->project->parts[part_index];
    const struct chart *chart = builder->charts[part_index];

    band->name = part->name;
    band->part = part_index;
    band->chart_name = chart->name;
    band->begin = part->begin.value - 1;
    band->drawn = remake_begin(builder->work, &chart->repeat, band->begin);
    band->knitted = plan_knitted_grid(builder, &band->drawn);
    if (builder->project->worked.value == WORKED_FLAT) {
        band->left = chart->left;
        band->right = chart->right;
        band->left_knitted = plan_knitted_grid(builder, &chart->left);
        band->right_knitted = plan_knitted_grid(builder, &chart->right);
    }
    band->side_sts = band->left.ncols + band->right.ncols;
    band->repeat_sts = chart->repeat.ncols;
    band->rows = chart->repeat.nrows;
    band->upwards = part->upwards.value;
}

bool plan_part_counts_itself(const struct builder *builder, int part)
{
    const struct part *at = &builder->project->parts[part];
    bool flat = builder->project->worked.value == WORKED_FLAT;

    return at->kind == PART_BAND || at->on_needle.value > 0 ||
           rational_is_value((flat ? at->width : at->around).in);
}

/* The rest takes what is below it, and under the first count what that has. */
void plan_counts_spread(struct builder *builder)
{
    const struct project *project = builder->project;
    int below = -1;

    for (int i = 0; i < project->nparts; i++) {
        if (project->parts[i].kind == PART_PLAIN && !plan_part_counts_itself(builder, i))
            builder->part_count[i] = below;
        if (project->parts[i].kind == PART_PLAIN)
            builder->rest_count[i] = builder->part_count[i];
        below = builder->rest_count[i];
    }
    for (int i = project->nparts - 1, above = -1; i >= 0; i--) {
        if (builder->part_count[i] < 0)
            builder->part_count[i] = builder->rest_count[i] = above;
        above = builder->rest_count[i];
    }
}

/* --- cast-on and rib ------------------------------------------------------------------ */

/* A rib that may end as it begins: flat, or at a steek where she says its count. */
static bool rib_has_ends(const struct builder *builder)
{
    return builder->project->worked.value == WORKED_FLAT ||
           (builder_steek_sts(builder) > 0 && builder->project->cast_on.stitches_kind == RIB_COUNT);
}

static void fault_rib(struct builder *builder, int count)
{
    const struct cast_on *cast_on = &builder->project->cast_on;
    struct arena *arena = builder->work->arena;
    bool said = cast_on->stitches_kind != RIB_SAME, ends = rib_has_ends(builder);
    int multiple = cast_on->rib_knit + cast_on->rib_purl;
    struct count_rule rule = sizing_rib(cast_on->rib_knit, cast_on->rib_purl, ends);
    struct count_set counts = sizing_counts(&rule, 1);
    int64_t below = sizing_below(&counts, count), above = sizing_above(&counts, count);
    const char *todo = arena_printf(arena, "Write rib stitches = %s%lld; the plan shapes from there to the part above.",
                                    below > 0 ? arena_printf(arena, "%lld or ", (long long)below) : "",
                                    (long long)above);

    if (!said && builder->project->counts.value != COUNTS_TOGETHER)
        todo = arena_printf(arena,
                            "%s Or write counts = together under [measure]: then the rib and the bands "
                            "have counts that suit both.",
                            todo);
    builder_fault(builder, DIAG_RIB_MULTIPLE, said ? cast_on->stitches.at : cast_on->rib.at,
                  ends ? arena_printf(arena,
                                      "Knit %d purl %d goes into a multiple of %d stitches, or that "
                                      "plus %d; %d is neither.",
                                      cast_on->rib_knit, cast_on->rib_purl, multiple,
                                      cast_on->rib_knit, count)
                       : arena_printf(arena,
                                      "Knit %d purl %d in the round goes into a multiple of %d "
                                      "stitches; %d is not.",
                                      cast_on->rib_knit, cast_on->rib_purl, multiple, count),
                  todo);
}

static int rib_count(struct builder *builder, int first)
{
    const struct cast_on *cast_on = &builder->project->cast_on;
    bool flat = rib_has_ends(builder);
    int knit = cast_on->rib_knit, purl = cast_on->rib_purl;
    struct rational target = rational_whole(first);
    struct count_rule rule;

    switch (cast_on->stitches_kind) {
    case RIB_COUNT:
        target = rational_whole(cast_on->stitches.value);
        if (builder->try_at)
            target = rational_mul(
                target, rational_div(builder->per_in, builder->own->gauge.gauge.stitches.per_in));
        break;
    case RIB_RATIO:
        target = rational_mul(target, cast_on->ratio.ratio);
        return (int)sizing_rib_nearest(target, knit, purl, flat);
    case RIB_SAME:
        break;
    }
    if (builder->try_at)
        return (int)sizing_rib_nearest(target, knit, purl, flat);
    rule = sizing_rib(knit, purl, flat);
    if (!sizing_suits(&rule, rational_nearest(target)))
        fault_rib(builder, (int)rational_nearest(target));
    return (int)rational_nearest(target);
}

void plan_cast_on_set(struct builder *builder)
{
    const struct cast_on *asked = &builder->project->cast_on;
    struct plan_piece *piece = builder->piece;
    struct plan_cast_on *cast_on = &piece->cast_on;

    cast_on->kind = (enum cast_on_kind)asked->kind.value;
    cast_on->yarn = builder->main_yarn;
    cast_on->body_sts = builder->rest_count[0];
    if (asked->rib_rounds > 0) {
        cast_on->has_rib = true;
        cast_on->rib_knit = asked->rib_knit;
        cast_on->rib_purl = asked->rib_purl;
        cast_on->rib_rounds = asked->rib_rounds;
        cast_on->rib_sts = rib_count(builder, cast_on->body_sts);
        cast_on->body_sts = cast_on->rib_sts;
        if (builder_steek_sts(builder) > 0 && cast_on->rib_sts % (asked->rib_knit + asked->rib_purl) == 0)
            cast_on->rib_even_sts = cast_on->rib_sts + asked->rib_knit;
    }
    if (builder->try_at && cast_on->has_rib)
        cast_on->rib_rounds = (int)lround(cast_on->rib_rounds * piece->gauge.rows_per_in /
                                          builder->own->gauge.rows_per_in);
    cast_on->selvedge_sts = builder_selvedge_sts(builder);
    cast_on->steek_sts = builder_steek_sts(builder);
    cast_on->stitches = cast_on->body_sts + cast_on->selvedge_sts + cast_on->steek_sts;
    cast_on->width_in = cast_on->stitches / piece->plain_gauge.per_in;
}

/* --- counts she might choose from ----------------------------------------------------- */

/* A rib on a count of its own asks nothing of the body's. */
static bool fits_rib(const struct builder *builder, int64_t count)
{
    struct count_rule rule = builder_rib_rule(builder);

    return builder_rib_is_same(builder) && sizing_suits(&rule, count);
}

static uint64_t fits_bands(const struct builder *builder, int64_t count)
{
    const struct plan_piece *piece = builder->piece;
    uint64_t fits = 0;

    for (int i = 0; i < piece->nbands && i < 64; i++) {
        const struct plan_band *band = &piece->bands[i];
        const struct part *part = &builder->project->parts[band->part];

        if (!rational_is_value(part->around.in) && !rational_is_value(part->width.in) &&
            sizing_suits(&(struct count_rule){band->repeat_sts, band->side_sts, -1}, count))
            fits |= (uint64_t)1 << i;
    }
    return fits;
}

/* The nearest counts to the target that suit a repeat or the rib, at most four each way. */
void plan_candidates_set(struct builder *builder, struct plan *plan)
{
    enum { EACH_WAY = 4, REACH_PART = 4 };
    const struct plan_band *band = plan->piece.bands;
    struct plan_candidate *list;
    int64_t target, first, last;
    int edges;

    if (!band->has_target)
        return;
    edges = builder_edges_in_measure(builder);
    target = rational_nearest(band->target_sts) - edges;
    first = last = target;
    list = arena_alloc(builder->work->arena, 2 * EACH_WAY + 2, sizeof *list);
    for (int n = 0; n < EACH_WAY && first - 1 > target - target / REACH_PART && first > 1;)
        n += fits_bands(builder, --first) || fits_rib(builder, first);
    for (int n = 0; n < EACH_WAY && last < target + target / REACH_PART;)
        n += fits_bands(builder, ++last) || fits_rib(builder, last);
    for (int64_t count = first; count <= last; count++) {
        uint64_t bands = fits_bands(builder, count);
        bool rib = fits_rib(builder, count);
        struct plan_candidate *candidate = &list[plan->ncandidates];

        if ((!bands && !rib) || plan->ncandidates == 2 * EACH_WAY + 1)
            continue;
        *candidate = (struct plan_candidate){.stitches = count + edges, .fits_bands = bands,
                                             .fits_rib = rib,
                                             .chosen = count == band->stitches + band->side_sts};
        candidate->finished_in = (double)(count + edges) / plan->piece.gauge.per_in;
        candidate->ease_ratio = candidate->finished_in / band->measure_in - 1.0;
        plan->ncandidates++;
    }
    plan->candidates = list;
}
