/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How many stitches each part has, and the cast-on.
 */
#include "builder.h"

#include <math.h>
#include <stdlib.h>

#include "base/arena.h"
#include "model/sizing.h"

enum { STITCHES_MAX = 1000000 };

/* A share of the measure is a share of it with its ease, where that is a length. */
static bool shares_ease(const struct builder *builder, const struct part *part)
{
    return part->share.given && !part->ease.given && builder->project->ease.given &&
           !builder->project->ease.is_ratio;
}

struct part_target plan_target_of(const struct builder *builder, const struct part *part,
                                  struct rational per_in)
{
    const struct project *project = builder->project;
    bool flat = project->worked.value == WORKED_FLAT;
    const struct given_length *own = flat ? &part->width : &part->around;
    const struct given_length *measure = own->given ? own : flat ? &project->width : &project->around;
    const struct given_ease *ease = part->ease.given ? &part->ease : &project->ease;
    struct part_target target = {.given = measure->given};

    if (!target.given)
        return target;
    target.measure_in = measure->in;
    target.wanted_in = measure->in;
    if (shares_ease(builder, part))
        target.wanted_in =
            rational_add(measure->in, rational_mul(ease->value, part->share.ratio));
    else if (ease->given)
        target.wanted_in = sizing_finished_in(measure->in, ease->is_ratio, ease->value);
    target.sts = rational_mul(target.wanted_in, per_in);
    return target;
}

static bool target_is_sound(struct builder *builder, const struct part_target *target, struct place at)
{
    if (!target->given || (rational_is_value(target->sts) && rational_sign(target->sts) > 0))
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

static void fault_wide(struct builder *builder, const struct plan_band *band, struct place at,
                       int64_t count)
{
    struct arena *arena = builder->work->arena;
    double per_in = builder->piece->gauge.per_in;

    builder_fault(builder, DIAG_CHART_WIDE, at,
                  arena_printf(arena,
                               "The chart is wider than the piece: one repeat of %lld stitches is "
                               "%s, and %s is wanted.",
                               (long long)count, builder_length(builder, (double)count / per_in),
                               builder_length(builder, band->wanted_in)),
                  arena_printf(arena,
                               "Use a motif of at most %lld stitches, a larger measure, a finer "
                               "yarn, or write repeats = 1 to have it all the same.",
                               (long long)rational_floor(band->target_sts)));
}

void plan_band_set_count(struct builder *builder, struct plan_band *band, int64_t total)
{
    const struct part *part = &builder->project->parts[band->part];
    int selvedge = builder->project->worked.value == WORKED_FLAT ? builder_selvedge_sts(builder) : 0;
    int64_t plus = band->side_sts + selvedge;

    if (total > STITCHES_MAX) {
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
    band->meets_target = fabs(band->finished_in - band->wanted_in) <=
                         builder_threshold(builder, "fit_near_ratio") * band->wanted_in;
}

/* Whole repeats: the number given, else the multiple nearest the exact target. */
static void size_band(struct builder *builder, const struct part *part, struct plan_band *band)
{
    struct part_target target = plan_target_of(builder, part, builder->per_in);
    int selvedge = builder->project->worked.value == WORKED_FLAT ? builder_selvedge_sts(builder) : 0;
    int64_t plus = band->side_sts + selvedge;
    int64_t count = band->repeat_sts + plus;

    if (!target_is_sound(builder, &target, part->at))
        return;
    band->has_target = target.given;
    if (target.given) {
        band->target_sts = target.sts;
        band->measure_in = rational_double(target.measure_in);
        band->wanted_in = rational_double(target.wanted_in);
    }
    band->repeats_given = part->repeats.given;
    if (part->repeats.given) {
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

static void band_from_chart(const struct builder *builder, int part_index, struct plan_band *band)
{
    const struct part *part = &builder->project->parts[part_index];
    const struct chart *chart = builder->charts[part_index];

    band->name = part->name;
    band->part = part_index;
    band->chart_name = chart->name;
    band->drawn = chart->repeat;
    band->knitted = plan_knitted_grid(builder, &chart->repeat);
    if (builder->project->worked.value == WORKED_FLAT) {
        band->left = chart->left;
        band->right = chart->right;
        band->left_knitted = plan_knitted_grid(builder, &chart->left);
        band->right_knitted = plan_knitted_grid(builder, &chart->right);
    }
    band->side_sts = band->left.ncols + band->right.ncols;
    band->repeat_sts = chart->repeat.ncols;
    band->rows = chart->repeat.nrows;
    band->upwards = part->upwards.given ? part->upwards.value : 1;
}

/* A plain part's own count: said, or its measure at the plain gauge. lowest: no count stands below. */
static int plain_count(struct builder *builder, const struct part *part, bool lowest)
{
    const struct cast_on *cast_on = &builder->project->cast_on;
    bool flat = builder->project->worked.value == WORKED_FLAT;
    struct part_target target = plan_target_of(builder, part, builder->plain_per_in);
    int64_t count;

    if (part->on_needle.given) {
        if (!builder->try_at)
            return part->on_needle.value;
        count = llround(part->on_needle.value * builder->piece->plain_gauge.per_in /
                        builder->own->plain_gauge.per_in);
        return count > 0 ? (int)count : 1;
    }
    if (!target_is_sound(builder, &target, part->at))
        return 1;
    count = rational_nearest(target.sts);
    if (lowest && cast_on->rib.given && cast_on->stitches_kind == RIB_SAME)
        count = sizing_rib_nearest(target.sts, cast_on->rib_knit, cast_on->rib_purl, flat);
    if (count > 0 && count <= STITCHES_MAX)
        return (int)count;
    builder_fault(builder, DIAG_PLAN_SIZE, part->at,
                  arena_printf(builder->work->arena, "This part would have %lld stitches.",
                               (long long)count),
                  "Between one stitch and a million is planned: check the measure and its unit, the "
                  "ease, and the plain swatch.");
    return 1;
}

bool plan_part_counts_itself(const struct builder *builder, int part)
{
    const struct part *at = &builder->project->parts[part];
    bool flat = builder->project->worked.value == WORKED_FLAT;

    return at->kind == PART_BAND || at->on_needle.given ||
           (flat ? at->width.given : at->around.given);
}

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
            builder->part_count[i] = plain_count(builder, &project->parts[i], lowest);
        lowest = false;
        if (project->parts[i].kind == PART_PLAIN)
            continue;
        piece->nbands++;
        band_from_chart(builder, i, band);
        size_band(builder, &project->parts[i], band);
        if (!builder->failed && project->parts[i].remedy.given)
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

/* Bands, and plain parts with a count of their own; then the rest. */
void plan_bands_size(struct builder *builder)
{
    builder->piece->bands = arena_alloc(builder->work->arena, (size_t)builder->project->nparts + 1,
                                        sizeof *builder->piece->bands);
    size_parts(builder);
    if (!builder->failed)
        plan_together_set(builder);
    for (int i = 0; i < builder->piece->nbands && !builder->failed; i++)
        if (!builder->project->parts[builder->piece->bands[i].part].remedy.given)
            plan_fit_set(builder, &builder->piece->bands[i]); /* by the count that is planned */
    if (builder->failed)
        return;
    keep_counts(builder);
    plan_counts_spread(builder);
}

/* --- cast-on and rib ------------------------------------------------------------------ */

static void fault_rib(struct builder *builder, int count)
{
    const struct cast_on *cast_on = &builder->project->cast_on;
    bool flat = builder->project->worked.value == WORKED_FLAT;
    struct arena *arena = builder->work->arena;
    bool said = cast_on->stitches_kind != RIB_SAME;
    int multiple = cast_on->rib_knit + cast_on->rib_purl;
    int64_t below, above;
    const char *todo;

    sizing_rib_around(count, cast_on->rib_knit, cast_on->rib_purl, flat, &below, &above);
    todo = below > 0 ? arena_printf(arena, "Write rib stitches = %lld or %lld; the plan shapes from "
                                           "there to the part above.",
                                    (long long)below, (long long)above)
                     : arena_printf(arena, "Write rib stitches = %lld; the plan shapes from there "
                                           "to the part above.",
                                    (long long)above);
    if (!said && !(builder->project->counts.given && builder->project->counts.value == COUNTS_TOGETHER))
        todo = arena_printf(arena,
                            "%s Or write counts = together under [measure]: then the rib and the bands "
                            "have counts that suit both.",
                            todo);
    builder_fault(builder, DIAG_RIB_MULTIPLE, said ? cast_on->stitches.at : cast_on->rib.at,
                  flat ? arena_printf(arena,
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
    bool flat = builder->project->worked.value == WORKED_FLAT;
    int knit = cast_on->rib_knit, purl = cast_on->rib_purl;
    struct rational target = rational_whole(first);

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
    if (!sizing_rib_divides(rational_nearest(target), knit, purl, flat))
        fault_rib(builder, (int)rational_nearest(target));
    return (int)rational_nearest(target);
}

void plan_cast_on_set(struct builder *builder)
{
    const struct cast_on *asked = &builder->project->cast_on;
    struct plan_piece *piece = builder->piece;
    struct plan_cast_on *cast_on = &piece->cast_on;

    cast_on->kind = asked->kind.given ? (enum cast_on_kind)asked->kind.value : CAST_ON_LONG_TAIL;
    cast_on->yarn = builder->main_yarn;
    cast_on->body_sts = builder->rest_count[0];
    if (asked->rib.given) {
        cast_on->has_rib = true;
        cast_on->rib_knit = asked->rib_knit;
        cast_on->rib_purl = asked->rib_purl;
        cast_on->rib_rounds = asked->rib_rounds;
        cast_on->rib_sts = rib_count(builder, cast_on->body_sts);
        cast_on->body_sts = cast_on->rib_sts;
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
    const struct cast_on *cast_on = &builder->project->cast_on;

    return cast_on->rib.given && cast_on->stitches_kind == RIB_SAME &&
           sizing_rib_divides(count, cast_on->rib_knit, cast_on->rib_purl,
                              builder->project->worked.value == WORKED_FLAT);
}

static uint64_t fits_bands(const struct builder *builder, int64_t count)
{
    const struct plan_piece *piece = builder->piece;
    uint64_t fits = 0;

    for (int i = 0; i < piece->nbands && i < 64; i++) {
        const struct plan_band *band = &piece->bands[i];
        const struct part *part = &builder->project->parts[band->part];

        if (!part->around.given && !part->width.given && count > band->side_sts &&
            (count - band->side_sts) % band->repeat_sts == 0)
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
    edges = plan->round ? 0 : builder_selvedge_sts(builder);
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
