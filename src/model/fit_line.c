/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fit_line.h"

#include <inttypes.h>
#include <math.h>

#include "base/text.h"
#include "base/work.h"
#include "shaping.h"

static void add_count(struct text *text, int64_t count, const char *one, const char *many)
{
    text_addf(text, "%" PRId64 " %s", count, count == 1 ? one : many);
}

static void add_stitches(struct text *text, int64_t stitches)
{
    add_count(text, stitches, "stitch", "stitches");
}

/* "84 stitches (7 repeats of 12)", "87 stitches (4 repeats of 20 and 7 at the sides)" */
static void add_repeats(struct text *text, const struct fit_case *facts,
                        const struct fit_remedy *remedy)
{
    add_stitches(text, remedy->stitches);
    text_add(text, " (");
    add_count(text, remedy->repeats, "repeat", "repeats");
    text_addf(text, " of %d", remedy->repeat_sts);
    if (facts->question->side_sts > 0)
        text_addf(text, " and %d at the sides", facts->question->side_sts);
    text_add(text, ")");
}

static void add_length(struct text *text, const struct fit_case *facts, double inches)
{
    if (facts->question->cm_first)
        text_length_cm(text, inches);
    else
        text_length(text, inches);
}

/* "10 1/2 in (26.7 cm), 1/4 in (0.6 cm) wider than wanted" */
static void add_size(struct text *text, const struct fit_case *facts,
                     const struct fit_remedy *remedy)
{
    const double sixteenth_in = 1.0 / 16; /* under it the ruler's eighths show nothing */
    const char *more = facts->question->round ? "larger" : "wider";
    const char *less = facts->question->round ? "smaller" : "narrower";

    add_length(text, facts, remedy->finished_in);
    if (fabs(remedy->off_in) < sixteenth_in) {
        text_add(text, facts->question->cm_first ? ", as wanted to within 2 mm"
                                                 : ", as wanted to the nearest 1/8 in");
        return;
    }
    text_add(text, ", ");
    add_length(text, facts, fabs(remedy->off_in));
    text_addf(text, " %s than wanted", remedy->off_in > 0 ? more : less);
}

static void say_count(struct text *text, const struct fit_case *facts,
                      const struct fit_remedy *remedy)
{
    text_add(text, "Work on ");
    add_repeats(text, facts, remedy);
    text_add(text, ": ");
    add_size(text, facts, remedy);
    text_add(text, ".");
}

/* "Increase before the band: k3, ... (72 + 12 = 84)" and how many rounds it took. */
static int add_shaping(struct work *work, struct text *text, int64_t from, int64_t to, bool round)
{
    struct shaping shaping;

    if (shaping_spread(work, (int)from, (int)to, round, &shaping) < 0)
        return 0;
    if (shaping.rounds > 1)
        text_addf(text, " over %d %s", shaping.rounds, round ? "rounds" : "rows");
    text_addf(text, ": %s (%s)", shaping.line, shaping.sum);
    return shaping.rounds;
}

static void say_shape(struct work *work, struct text *text, const struct fit_case *facts,
                      struct fit_remedy *remedy)
{
    bool round = facts->question->round;
    int rounds;

    text_addf(text, "%s before the band", remedy->before_is_decrease ? "Decrease" : "Increase");
    rounds = add_shaping(work, text, facts->body_sts, remedy->stitches, round);
    text_addf(text, "; %s after it", remedy->before_is_decrease ? "increase" : "decrease");
    rounds += add_shaping(work, text, remedy->stitches, facts->body_sts, round);
    text_add(text, ". The band is ");
    add_repeats(text, facts, remedy);
    text_add(text, ", ");
    add_size(text, facts, remedy);
    text_addf(text, "; the rest keeps %" PRId64 " stitches. It takes %d plain %s more.",
              facts->body_sts, rounds, round ? "rounds" : "rows");
    remedy->extra_rounds = rounds;
}

static void say_columns(struct text *text, const struct fit_case *facts,
                        const struct fit_remedy *remedy)
{
    double each_in = remedy->plain_columns / remedy->gauge_per_in;

    text_add(text, "Work ");
    add_count(text, remedy->plain_columns, "plain column", "plain columns");
    text_add(text, " more between motifs");
    if (facts->question->chart)
        text_addf(text, ", after column %d of the chart", remedy->remake.plain_after);
    text_add(text, ", ");
    add_repeats(text, facts, remedy);
    text_add(text, ": ");
    add_size(text, facts, remedy);
    text_add(text, ". Floats that cross the plain columns are longer by ");
    add_stitches(text, remedy->plain_columns);
    text_add(text, ", ");
    add_length(text, facts, each_in);
    text_add(text, ".");
}

/* "column 7", "columns 3 and 9, which mirror each other," */
static void add_columns(struct text *text, const struct fit_case *facts, const struct remake *remake)
{
    bool two = remake->ncolumns == 2;

    if (!facts->question->chart) {
        text_add(text, two ? "two columns that mirror each other"
                           : "one column, on the motif's centre line or between motifs,");
        return;
    }
    if (two)
        text_addf(text, "columns %d and %d of the chart", remake->column[0] + 1,
                  remake->column[1] + 1);
    else
        text_addf(text, "column %d of the chart", remake->column[0] + 1);
    if (remake->mirrored)
        text_add(text, two ? ", which mirror each other," : ", on its centre line,");
}

static void say_trim_or_pad(struct text *text, const struct fit_case *facts,
                            const struct fit_remedy *remedy)
{
    const struct remake *remake = &remedy->remake;

    text_add(text, remake->twice ? "Work " : "Leave out ");
    add_columns(text, facts, remake);
    text_add(text, remake->twice ? " twice in each repeat, " : " in each repeat, ");
    add_repeats(text, facts, remedy);
    text_add(text, ": ");
    add_size(text, facts, remedy);
    text_add(text, ".");
    if (facts->question->chart && remake->lone_sts > 0) {
        text_add(text, " ");
        add_count(text, remake->lone_sts, "stitch that stands alone in its row",
                  "stitches that stand alone in their rows");
        text_add(text, remake->twice ? (remake->lone_sts == 1 ? " becomes two" : " become two each")
                                     : (remake->lone_sts == 1 ? " goes with it" : " go with it"));
        text_add(text, ".");
    }
}

static void say_redraw(struct text *text, const struct fit_case *facts,
                       const struct fit_remedy *remedy)
{
    text_addf(text, "Redraw the motif %d columns wide in place of %d: ", remedy->repeat_sts,
              facts->question->repeat_sts);
    add_repeats(text, facts, remedy);
    text_add(text, ", ");
    add_size(text, facts, remedy);
    text_add(text, ". What it does to the floats shows when it is drawn");
    if (facts->question->project_name)
        text_addf(text, ": strandwise resize %s --band %s --columns %d", facts->question->project_name,
                  facts->question->band_name, remedy->repeat_sts);
    text_add(text, ".");
}

/* "4 at each side edge", "5 after the start of the round and 4 before it" */
static void add_halves(struct text *text, int over, bool round)
{
    int half = over / 2;

    if (over == 1)
        text_add(text, round ? "beside the start of the round" : "at one side edge");
    else if (over % 2 == 0)
        text_addf(text,
                  round ? "%d on each side of the start of the round" : "%d at each side edge",
                  half);
    else if (round)
        text_addf(text, "%d after the start of the round and %d before it", over - half, half);
    else
        text_addf(text, "%d at one side edge and %d at the other", over - half, half);
}

static void say_part_repeats(struct text *text, const struct fit_case *facts,
                             const struct fit_remedy *remedy)
{
    text_add(text, "Keep ");
    add_stitches(text, remedy->stitches);
    text_add(text, ": centre ");
    add_count(text, remedy->repeats, "whole repeat", "whole repeats");
    text_addf(text, " and leave %d over", remedy->left_over);
    if (facts->question->side_sts > 0)
        text_addf(text, " besides the %d at the sides", facts->question->side_sts);
    text_add(text, ", ");
    add_halves(text, remedy->left_over, facts->question->round);
    text_add(text, remedy->remake.over_plain ? ", plain: " : ", as part of a motif: ");
    add_size(text, facts, remedy);
    text_add(text, facts->question->round ? ". Put the start where it shows least." : ".");
}

static void say_gauge(struct text *text, const struct fit_case *facts,
                      const struct fit_remedy *remedy)
{
    bool cm_first = facts->question->cm_first;
    double leading_in = cm_first ? 10 / 2.54 : 4, other_in = cm_first ? 4 : 10 / 2.54;
    double gauge_now = rational_double(facts->question->per_in);
    bool finer = remedy->gauge_per_in > gauge_now;

    text_addf(text, "Take a %s needle: at ", finer ? "smaller" : "larger");
    text_decimal(text, remedy->gauge_per_in * leading_in, 1);
    text_add(text, cm_first ? " stitches to 10 cm (" : " stitches to 4 in (");
    text_decimal(text, remedy->gauge_per_in * other_in, 1);
    text_add(text, cm_first ? " to 4 in) in place of " : " to 10 cm) in place of ");
    text_decimal(text, gauge_now * leading_in, 1);
    text_add(text, ", ");
    add_repeats(text, facts, remedy);
    text_add(text, " are ");
    add_length(text, facts, remedy->finished_in);
    text_add(text, ", as wanted; that is ");
    text_decimal(text, fabs(remedy->gauge_per_in / gauge_now - 1) * 100, 1);
    text_addf(text, " %% %s. Knit, wash and measure a new swatch first.",
              finer ? "tighter" : "looser");
}

/* "Longest float: 12 stitches, 1 1/2 in (3.8 cm). Catches: 49 at the fewest, against 42 with the
 * nearest whole repeats." */
static void add_floats(struct text *text, const struct fit_case *facts,
                       const struct fit_remedy *remedy)
{
    const struct fit_floats *floats = &remedy->floats, *now = &facts->floats;
    bool is_now = remedy->kind == FIT_ANOTHER_COUNT && remedy->stitches == facts->planned_sts;

    if (!floats->known)
        return;
    text_add(text, " Longest float: ");
    add_stitches(text, floats->longest_sts);
    text_add(text, ", ");
    add_length(text, facts, floats->longest_in);
    text_add(text, ". Catches in the band: ");
    text_grouped(text, (long)floats->catches_fewest);
    text_add(text, " at the fewest");
    if (is_now || !now->known)
        text_add(text, ".");
    else if (floats->catches_fewest == now->catches_fewest)
        text_addf(text, ", as many as with %" PRId64 " stitches.", facts->planned_sts);
    else {
        text_add(text, ", against ");
        text_grouped(text, (long)now->catches_fewest);
        text_addf(text, " with %" PRId64 " stitches.", facts->planned_sts);
    }
}

const char *fit_line(struct work *work, const struct fit_case *facts, struct fit_remedy *remedy)
{
    struct text text = text_create(work->arena);

    switch (remedy->kind) {
    case FIT_ANOTHER_COUNT:
        say_count(&text, facts, remedy);
        break;
    case FIT_SHAPE:
        say_shape(work, &text, facts, remedy);
        break;
    case FIT_PLAIN_COLUMNS:
        say_columns(&text, facts, remedy);
        break;
    case FIT_TRIM_OR_PAD:
        say_trim_or_pad(&text, facts, remedy);
        break;
    case FIT_PART_REPEATS:
        say_part_repeats(&text, facts, remedy);
        break;
    case FIT_ANOTHER_GAUGE:
        say_gauge(&text, facts, remedy);
        break;
    case FIT_REDRAW:
        say_redraw(&text, facts, remedy);
        break;
    case FIT_KIND_COUNT:
        break;
    }
    add_floats(&text, facts, remedy);
    return text.bytes;
}
