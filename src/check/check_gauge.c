/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Numbers that look misread. The plan is made all the same.
 */
#include <math.h>

#include "base/arena.h"
#include "base/tables.h"
#include "base/text.h"
#include "base/work.h"
#include "check_parts.h"
#include "words/say.h"

/* From where on a number is doubted. Judgement, no source: the finest lace yarns run about
 * 8 m to the gram and the thickest ropes under a third of a metre. */
static const double ball_fine_m_per_g = 8.0;
static const double ball_thick_m_per_g = 0.3;
/* The shortest skeins sold, of embroidery wool, have some 8 m; a join takes 0.3 m. */
static const double ball_short_m = 2.0;
static const double around_large_in = 80.0;
static const double width_large_in = 120.0;
static const double measure_small_in = 2.0;

static void caution(struct work *work, enum diag_code code, struct place at, const char *what,
                    const char *todo)
{
    diag_add(work->diagnostics, code, at, what, todo);
}

/* --- counts ------------------------------------------------------------------------- */

/* Counts pooled over all places, to the inch; none if a number is missing. */
static struct rational per_inch(const struct given_counts *counts, const struct given_length *over)
{
    struct rational sum = rational_whole(0);

    if (counts->count == 0 || !rational_is_value(over->in))
        return rational_none();
    for (int i = 0; i < counts->count; i++)
        sum = rational_add(sum, counts->value[i]);
    return rational_div(sum, rational_mul(over->in, rational_whole(counts->count)));
}

static const char *shown(struct work *work, struct rational count)
{
    struct text text = text_create(work->arena);

    text_stitches(&text, count);
    return text.bytes;
}

static bool in_cm(const struct project *project)
{
    return project->units.value == UNIT_CM;
}

/* Her unit first. */
static const char *shown_length(struct work *work, const struct project *project,
                                struct rational inches)
{
    return say_length(work->arena, rational_double(inches), in_cm(project));
}

/* So many over the length by which her gauges go. */
static struct rational over_hers(const struct project *project, struct rational per_in)
{
    return in_cm(project) ? rational_mul(per_in, rational_make(1000, 254)) : per_in;
}

static const char *to_hers(const struct project *project)
{
    return in_cm(project) ? "to 10 cm" : "to the inch";
}

/* "14 1/4", or of centimetres "56.1" */
static const char *shown_gauge(struct work *work, const struct project *project, struct rational per_in)
{
    struct text text = text_create(work->arena);

    if (!in_cm(project))
        return shown(work, per_in);
    text_decimal(&text, rational_double(over_hers(project, per_in)), 1);
    return text.bytes;
}

/* A gauge that cannot well be: too many or too few stitches, or fewer rows than stitches. */
static void check_counts(struct work *work, const struct project *project,
                         const struct given_length *over, const struct given_counts *stitches,
                         const struct given_counts *rows)
{
    struct rational sts = per_inch(stitches, over), row = per_inch(rows, over);
    double low = tables_value(work->tables, "gauge_low_sts_per_in");
    double high = tables_value(work->tables, "gauge_high_sts_per_in");

    if (rational_is_value(sts) && (rational_double(sts) < low || rational_double(sts) > high))
        caution(
            work, DIAG_GAUGE_UNUSUAL, stitches->at,
            arena_printf(work->arena, "This comes to %s stitches %s.", shown_gauge(work, project, sts),
                         to_hers(project)),
            arena_printf(work->arena,
                         "Few hands knit fewer than %g or more than %g: check the counts, and "
                         "the length in \"over\".",
                         in_cm(project) ? round(low * 10 / 2.54) : low,
                         in_cm(project) ? round(high * 10 / 2.54) : high));
    if (rational_is_value(sts) && rational_is_value(row) && rational_compare(row, sts) < 0)
        caution(work, DIAG_GAUGE_SWAPPED, rows->at,
                arena_printf(work->arena, "%s stitches but only %s rows %s.",
                             shown_gauge(work, project, sts), shown_gauge(work, project, row),
                             to_hers(project)),
                in_cm(project)
                    ? "Knitting nearly always has more rows than stitches to 10 cm. Are the two swapped?"
                    : "Knitting nearly always has more rows than stitches to the inch. Are the two "
                      "swapped?");
}

/* The first gauge of the ladder that cannot well be. */
static void check_ladder(struct work *work, const struct project *project,
                         const struct ladder_gauges *ladder)
{
    struct given_counts one = ladder->stitches;
    const struct given_counts none = {0};
    double low = tables_value(work->tables, "gauge_low_sts_per_in");
    double high = tables_value(work->tables, "gauge_high_sts_per_in");

    one.count = 1;
    for (int i = 0; i < ladder->stitches.count; i++) {
        double sts;

        one.value[0] = ladder->stitches.value[i];
        if (!rational_is_value(per_inch(&one, &ladder->over)))
            continue;
        sts = rational_double(per_inch(&one, &ladder->over));
        if (sts >= low && sts <= high)
            continue;
        check_counts(work, project, &ladder->over, &one, &none);
        return;
    }
}

/* --- the swatch --------------------------------------------------------------------- */

/* In the plan no section stands beside the words. */
static bool is_plain(const struct project *project, const struct swatch *swatch)
{
    return swatch == &project->swatch_plain;
}

static void check_places(struct work *work, const struct project *project,
                         const struct swatch *swatch)
{
    const char *of = is_plain(project, swatch) ? " of the plain swatch" : "";
    bool stitches = swatch->stitches.count == 1;
    bool rows = swatch->rows.count == 1;

    if (!stitches && !rows)
        return;
    caution(work, DIAG_GAUGE_ONE_PLACE, stitches ? swatch->stitches.at : swatch->rows.at,
            arena_printf(work->arena, "%s%s were counted in one place only.",
                         stitches && rows ? "Stitches and rows"
                         : stitches       ? "The stitches"
                                          : "The rows",
                         of),
            "Count in two more places, away from the edges, and write all counts with commas "
            "between.");
}

static void check_over(struct work *work, const struct project *project,
                       const struct swatch *swatch)
{
    /* Four inches, and 10 cm, which stands for them where rulers are metric. */
    const struct rational ten_cm = rational_make(1000, 254);

    if (!rational_is_value(swatch->over.in) || rational_compare(swatch->over.in, ten_cm) >= 0 ||
        rational_double(swatch->over.in) >= tables_value(work->tables, "gauge_count_over_in"))
        return;
    caution(work, DIAG_GAUGE_SMALL, swatch->over.at,
            arena_printf(work->arena, "The gauge%s was counted over %s only.",
                         is_plain(project, swatch) ? " of the plain swatch" : "",
                         shown_length(work, project, swatch->over.in)),
            arena_printf(work->arena,
                         "Count over %s where the swatch is large enough: half a stitch missed then "
                         "matters less.",
                         in_cm(project) ? "10 cm or 4 in" : "4 in or 10 cm"));
}

static void check_worked(struct work *work, const struct project *project,
                         const struct swatch *swatch)
{
    bool flat = swatch->worked.value == WORKED_FLAT;
    const char *plain = is_plain(project, swatch) ? "plain " : "";

    if (swatch->worked.value == project->worked.value)
        return;
    caution(work, DIAG_GAUGE_FLAT, swatch->worked.at,
            arena_printf(work->arena, "The %sswatch was worked %s, the piece is worked %s.", plain,
                         flat ? "flat" : "in the round", flat ? "in the round" : "flat"),
            "Purl rows often differ from knit rows, and the size with them: swatch the way the "
            "piece is worked. The plan goes by this swatch.");
}

static void check_washed(struct work *work, const struct project *project,
                         const struct swatch *swatch)
{
    const char *plain = is_plain(project, swatch) ? "plain " : "";

    if (swatch->washed.value)
        return;
    caution(work, DIAG_GAUGE_UNWASHED, swatch->washed.said ? swatch->washed.at : swatch->at,
            arena_printf(work->arena,
                         swatch->washed.said ? "The %sswatch was not washed."
                                              : "It is not said that the %sswatch was washed, so it is "
                                                "taken as unwashed.",
                         plain),
            "Sizes may change at the first wash: wash the swatch, measure again, write washed = "
            "yes.");
}

void check_on_scale(struct work *work, const struct given_grams *scale, struct rational mass_g,
                    struct place at)
{
    struct rational steps = rational_div(mass_g, scale->g);

    if (rational_is_value(steps) && steps.den == 1)
        return;
    diag_add(work->diagnostics, DIAG_WEIGHT_STEP, at,
             arena_printf(work->arena, "A scale that counts in %g g cannot show %g g.",
                          rational_double(scale->g), rational_double(mass_g)),
             "Write what the scale showed, or in \"scale\" what it counts in; weigh more knitting "
             "if the scale is too coarse.");
}

/* Two balls on the scale, or one with its bag or bowl. */
static void check_ball_weight(struct work *work, const struct ball *ball,
                              const struct given_weighed *weighed, const char *name)
{
    if (!rational_is_value(ball->mass_g) || !(rational_double(weighed->before_g) >
                          tables_value(work->tables, "ball_heavy_ratio") *
                              rational_double(ball->mass_g)))
        return;
    caution(work, DIAG_BALL_HEAVY, weighed->at,
            arena_printf(work->arena, "A ball of %s weighs %g g by its band, and was weighed as %g g.",
                         name, rational_double(ball->mass_g), rational_double(weighed->before_g)),
            "If a bag or bowl was on the scale both times, that is no harm; else weigh one ball, "
            "before and after.");
}

static void check_weights(struct work *work, const struct project *project,
                          const struct swatch *swatch)
{
    for (int i = 0; i < SWATCH_TIMES_MAX; i++) {
        const struct given_weight *weight = &swatch->weight[i];
        const struct given_weighed *ball = &swatch->weighed[i];

        if (weight->rows > 0 && rational_is_value(swatch->scale.g))
            check_on_scale(work, &swatch->scale, weight->mass_g, weight->at);
        if (ball->all_sts == 0)
            continue;
        if (ball->yarn.index >= 0)
            check_ball_weight(work, &project->yarns[ball->yarn.index].ball, ball,
                              project->yarns[ball->yarn.index].name);
        if (rational_compare(ball->after_g, ball->before_g) >= 0)
            diag_add(work->diagnostics, DIAG_LOOP_UNSOLVED, ball->at,
                     "The ball weighs no less after the knitting than before it.",
                     "Write the weight before first; weigh after more rounds if the scale shows "
                     "no difference.");
        else if (rational_is_value(swatch->scale.g)) {
            check_on_scale(work, &swatch->scale, ball->before_g, ball->at);
            check_on_scale(work, &swatch->scale, ball->after_g, ball->at);
        }
    }
}

static void check_swatch(struct work *work, const struct project *project,
                         const struct swatch *swatch)
{
    if (!swatch->is_there)
        return;
    check_weights(work, project, swatch);
    check_places(work, project, swatch);
    check_over(work, project, swatch);
    check_counts(work, project, &swatch->over, &swatch->stitches, &swatch->rows);
    check_worked(work, project, swatch);
    check_washed(work, project, swatch);
}

/* --- balls and measures ------------------------------------------------------------- */

/* A length that is no ball's is a slip, whatever its weight. */
static bool is_short(struct work *work, const struct ball *ball, const char *whose)
{
    if (!(rational_double(ball->length_m) < ball_short_m))
        return false;
    caution(work, DIAG_BALL_UNUSUAL, ball->at,
            arena_printf(work->arena, "A ball of %s would be hardly longer than the ends of a join.",
                         whose),
            "Write the weight and the length of one ball, like this: ball = 50 g, 210 m.");
    return true;
}

static void check_ball(struct work *work, const struct ball *ball, const char *whose)
{
    double m_per_g;
    struct text what;
    bool fine;

    if (!rational_is_value(ball->mass_g) || is_short(work, ball, whose))
        return;
    m_per_g = rational_double(rational_div(ball->length_m, ball->mass_g));
    fine = m_per_g > ball_fine_m_per_g;
    if (!fine && !(m_per_g < ball_thick_m_per_g))
        return;
    what = text_create(work->arena);
    text_addf(&what, "By its band %s would run ", whose);
    text_decimal(&what, m_per_g, fine ? 1 : 3);
    text_addf(&what, " m to the gram: %s.",
              fine ? "finer than most lace" : "thicker than nearly any yarn");
    caution(work, DIAG_BALL_UNUSUAL, ball->at, what.bytes,
            fine ? "Is it the length of 100 g, or of a larger ball? Write the weight and the "
                   "length of one ball."
                 : "Are weight and length of the same ball? Write g or oz, and m or yd.");
}

/* Metres of 100 g written for a ball of 50 g, or the other way: half or twice the yarn's section,
 * so a thickness that does not go with the stitches. Geometry of a round strand, 1 g/m over
 * 1 g/cm3 being 1 mm2. */
static void check_ball_for_gauge(struct work *work, const struct project *project,
                                 const struct ball *ball, struct rational per_in, const char *whose)
{
    const double mm_per_in = 25.4, pi = acos(-1.0);
    double packing = tables_value(work->tables, "yarn_packing_g_per_cm3");
    double m_per_g = rational_double(rational_div(ball->length_m, ball->mass_g));
    double width_mm = mm_per_in / rational_double(per_in);
    double ratio = 2.0 * sqrt(1.0 / (m_per_g * packing) / pi) / width_mm;
    bool thin = ratio < tables_value(work->tables, "yarn_thin_ratio");

    /* What is odd in itself has been said already. */
    if (!rational_is_value(ball->mass_g) || !rational_is_value(per_in) || m_per_g > ball_fine_m_per_g ||
        m_per_g < ball_thick_m_per_g ||
        rational_double(per_in) < tables_value(work->tables, "gauge_low_sts_per_in") ||
        rational_double(per_in) > tables_value(work->tables, "gauge_high_sts_per_in") ||
        !(thin || ratio > tables_value(work->tables, "yarn_thick_ratio")))
        return;
    caution(work, DIAG_BALL_GAUGE, ball->at,
            arena_printf(work->arena,
                         "By its band %s is very %s for %s stitches %s.", whose,
                         thin ? "thin" : "thick", shown_gauge(work, project, per_in), to_hers(project)),
            thin ? "Is it the length of 100 g, and the ball of 50 g? Write the weight and the length "
                   "of one ball."
                 : "Is it the length of 50 g, and the ball of 100 g? Write the weight and the length "
                   "of one ball.");
}

static void check_size(struct work *work, const struct project *project,
                       const struct given_length *length, double large_in,
                       const char *name)
{
    double inches = rational_is_value(length->in) ? rational_double(length->in) : measure_small_in;
    bool large = inches > large_in;

    if (!large && inches >= measure_small_in)
        return;
    caution(work, DIAG_MEASURE_UNUSUAL, length->at,
            arena_printf(work->arena, "%s comes to %s, which is very %s.", name,
                         shown_length(work, project, length->in), large ? "large" : "small"),
            large ? "If centimetres were meant, write cm behind the number."
                  : "If another unit was meant, write it behind the number.");
}

static void check_sizes_listed(struct work *work, const struct project *project)
{
    bool flat = project->worked.value == WORKED_FLAT;

    for (int i = 0; i < project->sizes.count; i++) {
        struct given_length one = {.in = project->sizes.in[i], .at = project->sizes.at};

        check_size(work, project, &one, flat ? width_large_in : around_large_in,
                   arena_printf(work->arena, "Size %s", project->sizes.name[i]));
    }
}

/* Under a quarter: a yoke narrows to no less. */
static bool is_small_share(const struct part *part)
{
    return rational_is_value(part->share.ratio) && rational_compare(part->share.ratio, rational_make(1, 4)) < 0;
}

/* Per cent that come to more than any piece has, to more than the measure itself, or to next to nothing. */
static void check_share_size(struct work *work, const struct project *project, const struct part *part)
{
    bool flat = project->worked.value == WORKED_FLAT;
    const struct given_length *length = flat ? &part->width : &part->around;
    const struct given_length *measure = flat ? &project->width : &project->around;
    double large_in = flat ? width_large_in : around_large_in;
    double inches = rational_is_value(length->in) ? rational_double(length->in) : 0.0;

    if (!rational_is_value(part->share.ratio) || !rational_is_value(length->in) || !rational_is_value(measure->in))
        return;
    if (rational_compare(part->share.ratio, rational_whole(1)) > 0)
        caution(work, DIAG_MEASURE_UNUSUAL, length->at,
                arena_printf(work->arena, "%s is to be %g %% of the measure: %s, wider than the piece itself.",
                             part->name, 100.0 * rational_double(part->share.ratio),
                             shown_length(work, project, length->in)),
                "The bands of a yoke narrow upwards, 80 % above 100 %: check the per cent. If the piece "
                "flares there, leave it.");
    else if (is_small_share(part))
        caution(work, DIAG_MEASURE_UNUSUAL, length->at,
                arena_printf(work->arena, "%s is to be %g %% of the measure: %s, under a quarter of the piece.",
                             part->name, 100.0 * rational_double(part->share.ratio),
                             shown_length(work, project, length->in)),
                "Check the per cent: the share of the whole that is worked there, as 60 %. If the piece is so "
                "narrow there, leave it.");
    else if (inches < measure_small_in || (inches > large_in && rational_double(measure->in) <= large_in))
        check_size(work, project, length, large_in,
                   arena_printf(work->arena, "The measure of %s", part->name));
}

/* What a piece stretches over is rarely more than twice its way around. */
static void check_must_pass(struct work *work, const struct project *project,
                            const struct given_length *must,
                            const struct given_length *around)
{
    if (!rational_is_value(must->in) || !rational_is_value(around->in) ||
        rational_compare(must->in, rational_mul(around->in, rational_whole(2))) <= 0)
        return;
    caution(work, DIAG_MEASURE_UNUSUAL, must->at,
            arena_printf(work->arena, "\"must pass\" is %s, more than twice the way around of %s.",
                         shown_length(work, project, must->in), shown_length(work, project, around->in)),
            "Write the widest measure it must go over, round heel, head or hand; if another unit was "
            "meant, write it behind the number.");
}

/* A share of the measure says how wide, and repeats say it otherwise. */
static void check_share(struct work *work, const struct part *part)
{
    if (!rational_is_value(part->share.ratio) || part->repeats.value == 0)
        return;
    caution(work, DIAG_SHARE_UNUSED, rational_is_value(part->around.in) ? part->around.at : part->width.at,
            arena_printf(work->arena, "\"repeats\" gives %s its count, so its per cent are only compared.",
                         part->name),
            "Leave repeats out to have the whole repeats nearest those per cent, or leave the per cent "
            "out.");
}

/* Nothing can be counted over more than the swatch measures. */
static void check_swatch_size(struct work *work, const struct project *project,
                              const struct swatch *swatch)
{
    if (!rational_is_value(swatch->size.in) || !rational_is_value(swatch->over.in) ||
        rational_compare(swatch->size.in, swatch->over.in) >= 0)
        return;
    diag_add(work->diagnostics, DIAG_VALUE_RANGE, swatch->size.at,
             arena_printf(work->arena, "The swatch is %s wide and tall, but was counted over %s.",
                          shown_length(work, project, swatch->size.in), shown_length(work, project, swatch->over.in)),
             "Write the length of each side of the whole swatch, its borders included.");
}

void check_gauge(struct work *work, const struct project *project)
{
    check_swatch(work, project, &project->swatch);
    check_swatch(work, project, &project->swatch_plain);
    check_swatch_size(work, project, &project->swatch);
    check_swatch_size(work, project, &project->swatch_plain);
    for (int i = 0; i < project->ntries; i++) {
        const struct try_gauge *one = &project->tries[i];
        const char *whose = arena_printf(work->arena, "the yarn of try %s", one->name);

        check_counts(work, project, &one->over, &one->stitches, &one->rows);
        check_ball(work, &one->ball, whose);
        check_ball_for_gauge(work, project, &one->ball, per_inch(&one->stitches, &one->over), whose);
    }
    for (int i = 0; i < project->nyarns; i++) {
        const struct yarn *yarn = &project->yarns[i];
        const char *whose = arena_printf(work->arena, "the %s", yarn->name);

        check_ball(work, &yarn->ball, whose);
        if (!yarn->duplicate_over.name)
            check_ball_for_gauge(work, project, &yarn->ball,
                                 per_inch(&project->swatch.stitches, &project->swatch.over),
                                 whose);
    }
    check_ladder(work, project, &project->ladder);
    check_size(work, project, &project->around, around_large_in, "\"around\"");
    check_size(work, project, &project->width, width_large_in, "\"width\"");
    check_sizes_listed(work, project);
    for (int i = 0; i < project->nparts; i++) {
        check_share_size(work, project, &project->parts[i]);
        if (!rational_is_value(project->parts[i].share.ratio)) { /* of a measure that was looked at above */
            check_size(work, project, &project->parts[i].around, around_large_in, "\"around\"");
            check_size(work, project, &project->parts[i].width, width_large_in, "\"width\"");
        }
        check_share(work, &project->parts[i]);
        if (!is_small_share(&project->parts[i])) /* then it is the per cent that are doubted */
            check_must_pass(work, project, &project->parts[i].must_pass, rational_is_value(project->parts[i].around.in)
                                                                    ? &project->parts[i].around
                                                                    : &project->around);
    }
    check_must_pass(work, project, &project->must_pass, &project->around);
}
