/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Sewn up: what is left of a flat piece once the seam has taken up its edge stitches.
 *
 * A width counts everything on the needle, so the seam makes the piece narrower than its measure.
 */
#include "plan/builder.h"

#include <math.h>

#include "base/arena.h"
#include "base/text.h"
#include "model/gauge/sizing.h"

static const double STEP_IN = 0.125, STEP_CM = 0.1, CM_PER_IN = 2.54;

/* What she would write, a step of her ruler up at most. */
static double ruled_in(const struct builder *builder, double inches)
{
    const double hair = 1e-9;

    return builder_in_cm(builder) ? ceil(inches * CM_PER_IN / STEP_CM - hair) * STEP_CM / CM_PER_IN
                          : ceil(inches / STEP_IN - hair) * STEP_IN;
}

/* As it is printed: so that what is printed subtracts. */
static double nearest_in(const struct builder *builder, double inches)
{
    return builder_in_cm(builder) ? round(inches * CM_PER_IN / STEP_CM) * STEP_CM / CM_PER_IN
                          : round(inches / STEP_IN) * STEP_IN;
}

/* "16 3/8 in", or "41.6 cm" */
static const char *ruled_words(const struct builder *builder, double inches)
{
    struct text text = text_create(builder->work->arena);

    if (builder_in_cm(builder))
        text_decimal(&text, inches * CM_PER_IN, 1);
    else
        text_eighths(&text, inches);
    text_add(&text, builder_in_cm(builder) ? " cm" : " in");
    return text.bytes;
}

/* Where she would write it: the part's own measure, or that of the piece. */
static const char *section_of(const struct builder *builder, const struct part *part)
{
    return rational_is_value(part->width.in) ? arena_printf(builder->work->arena, "[%s %s]",
                                            part->kind == PART_BAND ? "band" : "plain", part->name)
                             : "[measure]";
}

/* The measure with which so much is wanted, its ease being what it is. */
static double measure_for_in(const struct part_target *target, const struct given_ease *ease,
                             double wanted_in)
{
    double measure_in = rational_double(target->measure_in);

    if (ease->is_ratio)
        return wanted_in / (rational_double(target->wanted_in) / measure_in);
    return wanted_in - (rational_double(target->wanted_in) - measure_in);
}

static const char *width_words(const struct builder *builder, const struct part *part,
                               const struct part_target *target, double more_in, double *wanted_in)
{
    const struct given_ease *ease = &part->ease;
    double now_in = rational_double(target->wanted_in);
    double measure_in = ruled_in(builder, measure_for_in(target, ease, now_in + more_in));

    *wanted_in = ease->is_ratio
                     ? measure_in * now_in / rational_double(target->measure_in)
                     : measure_in + now_in - rational_double(target->measure_in);
    return arena_printf(builder->work->arena, "width = %s under %s", ruled_words(builder, measure_in),
                        section_of(builder, part));
}

static const char *comes_to(const struct builder *builder, int64_t total)
{
    return arena_printf(builder->work->arena, "%lld stitches on the needle, %s sewn up", (long long)total,
                        builder_length(builder, (double)(total - builder_selvedge_sts(builder)) /
                                                    builder->piece->gauge.per_in));
}

static bool is_short(const struct builder *builder, double sewn_in, double wanted_in)
{
    return wanted_in - sewn_in > builder_threshold(builder, "fit_near_ratio") * wanted_in;
}

/* Side stitches, as many at each side, that bring it nearest its measure sewn up and are enough. */
static int64_t sides_more(const struct builder *builder, const struct plan_band *band,
                          struct rational short_sts)
{
    int64_t more = 2 * rational_nearest(rational_div(short_sts, rational_whole(2)));

    while (is_short(builder, band->sewn_in + (double)more / builder->piece->gauge.per_in, band->wanted_in))
        more += 2;
    return more;
}

/* No other repeats come nearer. Wider at its sides it may be given one repeat fewer: then they are named. */
static const char *sides_todo(const struct builder *builder, const struct plan_band *band,
                              const struct part *part, struct rational needle_sts, int64_t now)
{
    struct arena *arena = builder->work->arena;
    int edges = builder_selvedge_sts(builder);
    int64_t more = sides_more(builder, band,
                              rational_sub(rational_add(needle_sts, rational_whole(edges)),
                                           rational_whole(now)));
    int64_t plus = band->side_sts + edges + more;
    bool keeps = part->repeats.value > 0 ||
                 sizing_nearest_multiple(needle_sts, band->repeat_sts, plus) == now + more;

    return arena_printf(arena,
                        "No whole repeats come nearer. Give its chart %lld side stitches more, %lld at each "
                        "side%s, and it is %s. Or leave it, if it may be smaller.",
                        (long long)more, (long long)(more / 2),
                        keeps ? ""
                              : arena_printf(arena, ", and write repeats = %d under [band %s]",
                                             band->repeats, part->name),
                        comes_to(builder, now + more));
}

static const char *band_todo(const struct builder *builder, const struct plan_band *band)
{
    const struct part *part = &builder->project->parts[band->part];
    struct part_target target = plan_target_of(builder, part, builder->per_in);
    struct arena *arena = builder->work->arena;
    double per_in = builder->piece->gauge.per_in, wanted_in;
    int edges = builder_selvedge_sts(builder), plus = band->side_sts + edges;
    int64_t now = (int64_t)band->stitches + plus;
    int64_t then = sizing_nearest_multiple(rational_add(target.sts, rational_whole(edges)),
                                           band->repeat_sts, plus);
    const char *words = width_words(builder, part, &target, edges / per_in, &wanted_in);

    if (then == now && part->remedy.word == REMEDY_NONE && !part->count.said && !builder->project->counts.said)
        return sides_todo(builder, band, part, target.sts, now);
    if (part->repeats.value > 0)
        return arena_printf(arena, "repeats = %lld would be %s.",
                            (long long)((then - plus) / band->repeat_sts), comes_to(builder, then));
    if (part->remedy.word != REMEDY_NONE || part->count.said || builder->project->counts.said)
        return arena_printf(arena, "Ask for as much more as the edges take: %s.", words);
    return arena_printf(arena, "With %s it would be %s.", words,
                        comes_to(builder, sizing_nearest_multiple(
                                          rational_make(llround(wanted_in * per_in * 1e4), 10000),
                                          band->repeat_sts, plus)));
}

static void caution(const struct builder *builder, const struct part *part, double sewn_in,
                    double wanted_in, const char *todo)
{
    if (builder->try_at || !is_short(builder, sewn_in, wanted_in))
        return;
    diag_add(builder->work->diagnostics, DIAG_SEWN_NARROW, part->at,
             arena_printf(builder->work->arena,
                          "Sewn up, %s is %s wide, %s under the %s asked for: the edge stitches go into "
                          "the seam.",
                          part->name, builder_length(builder, sewn_in),
                          ruled_words(builder, nearest_in(builder, wanted_in) -
                                                   nearest_in(builder, sewn_in)),
                          builder_length(builder, wanted_in)),
             todo);
}

static void set_plain(struct builder *builder, const struct part *part, double sewn_in)
{
    struct part_target target = plan_target_of(builder, part, builder->plain_per_in);
    double wanted_in;
    const char *words;

    if (!rational_is_value(part->width.in))
        return;
    words = width_words(builder, part, &target,
                        builder_selvedge_sts(builder) / builder->piece->plain_gauge.per_in, &wanted_in);
    caution(builder, part, sewn_in, rational_double(target.wanted_in),
            arena_printf(builder->work->arena, "To have it so wide sewn up, write %s.", words));
}

void plan_sewn_set(struct builder *builder)
{
    const struct project *project = builder->project;
    struct plan_piece *piece = builder->piece;

    if (project->worked.value != WORKED_FLAT || builder_selvedge_sts(builder) == 0 ||
        !rational_is_value(project->seam.in) || rational_sign(project->seam.in) <= 0)
        return;
    for (int i = 0; i < piece->nbands; i++) {
        struct plan_band *band = &piece->bands[i];

        band->sewn_in = (band->stitches + band->side_sts) / piece->gauge.per_in;
        if (!band->has_target)
            continue;
        band->within_gauge = builder_is_within_gauge(builder, band->sewn_in, band->wanted_in);
        caution(builder, &project->parts[band->part], band->sewn_in, band->wanted_in,
                band_todo(builder, band));
    }
    for (int i = 0; i < piece->nsteps; i++)
        if (piece->steps[i].kind == STEP_PLAIN && *piece->steps[i].name &&
            !piece->steps[i].counted_otherwise)
            piece->steps[i].sewn_in = piece->steps[i].to_sts / piece->plain_gauge.per_in;
    for (int i = 0; i < project->nparts; i++)
        if (project->parts[i].kind == PART_PLAIN && project->parts[i].stitches.value == 0)
            set_plain(builder, &project->parts[i],
                      builder->part_count[i] / piece->plain_gauge.per_in);
}
