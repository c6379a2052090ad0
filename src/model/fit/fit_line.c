/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fit_line.h"

#include <inttypes.h>
#include <math.h>

#include "base/text.h"
#include "base/work.h"
#include "model/gauge/shaping.h"
#include "model/wear/stretch.h"

static void add_count(struct text *text, int64_t count, const char *one, const char *many)
{
    text_addf(text, "%" PRId64 " %s", count, count == 1 ? one : many);
}

static void add_stitches(struct text *text, int64_t stitches)
{
    add_count(text, stitches, "stitch", "stitches");
}

/* "7 at the sides", "2 edge stitches", "5 at the sides and 2 edge stitches": apart, as the plan has them. */
static void add_sides(struct text *text, const struct fit_case *facts)
{
    int edges = facts->question->selvedge_sts, sides = facts->question->side_sts - edges;

    if (sides > 0)
        text_addf(text, "%d at the sides%s", sides, edges > 0 ? " and " : "");
    if (edges > 0)
        text_addf(text, "%d edge stitches", edges);
}

/* "84 stitches (7 repeats of 12)", "87 stitches (4 repeats of 20 and 7 at the sides)" */
static void add_repeats(struct text *text, const struct fit_case *facts,
                        const struct fit_remedy *remedy)
{
    add_stitches(text, remedy->stitches);
    text_add(text, " (");
    add_count(text, remedy->repeats, "repeat", "repeats");
    text_addf(text, " of %d", remedy->repeat_sts);
    if (facts->question->side_sts > 0) {
        bool both = facts->question->selvedge_sts > 0 &&
                    facts->question->side_sts > facts->question->selvedge_sts;

        text_add(text, both ? ", " : " and ");
        add_sides(text, facts);
    }
    text_add(text, ")");
}

static void add_length(struct text *text, const struct fit_case *facts, double inches)
{
    if (facts->question->cm_first)
        text_length_cm(text, inches);
    else
        text_length(text, inches);
}

/* "10 1/2 in (26.7 cm), 1/4 in (0.6 cm) wider than wanted"; brief: what it is off alone. */
static void add_size(struct text *text, const struct fit_case *facts,
                     const struct fit_remedy *remedy, bool brief)
{
    const double sixteenth_in = 1.0 / 16; /* under it the ruler's eighths show nothing */
    const char *more = facts->question->round ? "larger" : "wider";
    const char *less = facts->question->round ? "smaller" : "narrower";

    if (fabs(remedy->off_in) < sixteenth_in && brief) {
        text_add(text, "as wanted");
        return;
    }
    if (!brief) {
        add_length(text, facts, remedy->finished_in);
        text_add(text, ", ");
    }
    if (fabs(remedy->off_in) < sixteenth_in) {
        text_add(text, facts->question->cm_first ? "as wanted to within 2 mm"
                                                 : "as wanted to the nearest 1/8 in");
        return;
    }
    add_length(text, facts, fabs(remedy->off_in));
    text_addf(text, " %s than wanted", remedy->off_in > 0 ? more : less);
}

static void say_count(struct text *text, const struct fit_case *facts,
                      const struct fit_remedy *remedy)
{
    text_add(text, "Work on ");
    add_repeats(text, facts, remedy);
    text_add(text, ": ");
    add_size(text, facts, remedy, false);
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

/* What is worked before and after, as it is worked. */
static void add_beside(struct text *text, const struct fit_remedy *remedy, bool round, bool edges)
{
    const struct shaping *both[2] = {&remedy->before, &remedy->after};
    bool said = false;

    for (int i = 0; i < 2; i++) {
        if (both[i]->rounds == 0)
            continue;
        text_add(text, said ? "; " : "");
        text_add(text, both[i]->to > both[i]->from ? (said ? "increase" : "Increase")
                                                   : (said ? "decrease" : "Decrease"));
        text_add(text, i == 0 ? " before the band" : said ? " after it" : " after the band");
        if (both[i]->rounds > 1)
            text_addf(text, " over %d %s", both[i]->rounds, round ? "rounds" : "rows");
        text_addf(text, "%s: %s (%s)", edges ? " between the edge stitches" : "", both[i]->line,
                  both[i]->sum);
        said = true;
    }
}

/* "It takes 2 plain rounds more.", or that it takes none. */
static void add_rounds(struct text *text, int rounds, bool round)
{
    if (rounds > 0) {
        text_add(text, "It takes ");
        add_count(text, rounds, round ? "plain round more." : "plain row more.",
                  round ? "plain rounds more." : "plain rows more.");
    } else {
        text_addf(text, "It takes no %s more: it is done in plain ones that are there.",
                  round ? "rounds" : "rows");
    }
}

static void say_shape(struct work *work, struct text *text, const struct fit_case *facts,
                      struct fit_remedy *remedy)
{
    bool round = facts->question->round;

    if (remedy->beside_known) {
        add_beside(text, remedy, round, facts->question->selvedge_sts > 0);
    } else {
        text_addf(text, "%s before the band", remedy->before_is_decrease ? "Decrease" : "Increase");
        remedy->extra_rounds = add_shaping(work, text, facts->body_sts, remedy->stitches, round);
        text_addf(text, "; %s after it", remedy->before_is_decrease ? "increase" : "decrease");
        remedy->extra_rounds += add_shaping(work, text, remedy->stitches, facts->body_sts, round);
    }
    text_add(text, ". The band is ");
    add_repeats(text, facts, remedy);
    text_add(text, ", ");
    add_size(text, facts, remedy, false);
    text_addf(text, "; the rest keeps %" PRId64 " stitches%s. ", facts->body_sts,
              facts->question->selvedge_sts > 0 ? ", edge stitches and all" : "");
    add_rounds(text, remedy->extra_rounds, round);
}

/* "2", "2-4", "2, 3 and 9", from 1 */
static void add_ranges(struct text *text, const int *rows, int n)
{
    for (int i = 0, end; i < n; i = end + 1) {
        for (end = i; end + 1 < n && rows[end + 1] == rows[end] + 1;)
            end++;
        text_add(text, i == 0 ? "" : end == n - 1 ? " and " : ", ");
        text_addf(text, "%d", rows[i] + 1);
        if (end > i)
            text_addf(text, "-%d", rows[end] + 1);
    }
}

/* "round 2", "rows 2-4" */
static void add_rows(struct text *text, const struct fit_case *facts, const int *rows, int n)
{
    text_addf(text, "%s%s ", facts->question->round ? "round" : "row", n == 1 ? "" : "s");
    add_ranges(text, rows, n);
}

/* " They cut a line of the pattern in chart round 2." Columns left out take a line of one stitch along. */
static void add_torn(struct text *text, const struct fit_case *facts, const struct fit_remedy *remedy)
{
    if (remedy->ntorn_rows == 0)
        return;
    if (remedy->kind == FIT_TRIM_OR_PAD)
        text_add(text, " That cuts");
    else
        text_add(text, remedy->plain_columns == 1 ? " It cuts" : " They cut");
    text_add(text, " a line of the pattern in chart ");
    add_rows(text, facts, remedy->torn_rows, remedy->ntorn_rows);
    text_add(text, ".");
}

/* "Chart rounds 2-3 are no longer one and one." */
static void add_uneven(struct text *text, const struct fit_case *facts, const struct fit_remedy *remedy)
{
    bool one = remedy->nuneven_rows == 1;

    if (remedy->nuneven_rows == 0)
        return;
    text_addf(text, " Chart %s%s ", facts->question->round ? "round" : "row", one ? "" : "s");
    add_ranges(text, remedy->uneven_rows, remedy->nuneven_rows);
    text_add(text, one ? " is no longer one and one." : " are no longer one and one.");
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
    add_size(text, facts, remedy, false);
    text_add(text, ". Floats that cross the plain columns are longer by ");
    add_stitches(text, remedy->plain_columns);
    text_add(text, ", ");
    add_length(text, facts, each_in);
    text_add(text, ".");
    add_torn(text, facts, remedy);
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
        text_add(text, two                  ? ", which mirror each other,"
                       : remake->one_of_two ? ", one of two alike between which it mirrors,"
                                            : ", on its centre line,");
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
    add_size(text, facts, remedy, false);
    text_add(text, ".");
    if (facts->question->chart && remake->lone_sts > 0) {
        text_add(text, " ");
        add_count(text, remake->lone_sts, "stitch that stands alone in its row",
                  "stitches that stand alone in their rows");
        text_add(text, remake->twice ? (remake->lone_sts == 1 ? " becomes two" : " become two each")
                                     : (remake->lone_sts == 1 ? " goes with it" : " go with it"));
        text_add(text, ".");
    }
    add_torn(text, facts, remedy);
}

static void say_redraw(struct text *text, const struct fit_case *facts,
                       const struct fit_remedy *remedy)
{
    text_addf(text, "Redraw the motif %d columns wide in place of %d: ", remedy->repeat_sts,
              facts->question->repeat_sts);
    add_repeats(text, facts, remedy);
    text_add(text, ", ");
    add_size(text, facts, remedy, false);
    text_add(text, ". ");
    if (facts->question->redraw)
        text_addf(text, "Type %s --columns %d. ", facts->question->redraw, remedy->repeat_sts);
    text_add(text, "What it does to the floats shows when it is drawn.");
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
    text_add(text, "Work the band on ");
    add_stitches(text, remedy->stitches);
    text_add(text, ": centre ");
    add_count(text, remedy->repeats, "whole repeat", "whole repeats");
    text_addf(text, " and leave %d over", remedy->left_over);
    if (facts->question->side_sts > 0) {
        text_add(text, " besides the ");
        add_sides(text, facts);
    }
    text_add(text, ", ");
    add_halves(text, remedy->left_over, facts->question->round);
    text_add(text, remedy->remake.over_plain ? ", plain: " : ", as part of a motif: ");
    add_size(text, facts, remedy, false);
    text_add(text, facts->question->round ? ". Put the start where it shows least." : ".");
}

static void say_gauge(struct text *text, const struct fit_case *facts,
                      const struct fit_remedy *remedy)
{
    bool cm_first = facts->question->cm_first;
    double leading_in = cm_first ? 10 / 2.54 : 4, other_in = cm_first ? 4 : 10 / 2.54;
    double gauge_now = rational_double(facts->question->per_in);
    bool finer = remedy->gauge_per_in > gauge_now;

    text_addf(text, "Take a %s needle%s: at ", finer ? "smaller" : "larger",
              !facts->question->plain_stays ? ""
              : facts->question->bands > 1  ? " for the bands; what is plain stays on its own"
                                            : " for the band; what is plain stays on its own");
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
    text_addf(text, " %% %s. Knit, wash and measure a new swatch first.%s",
              finer ? "tighter" : "looser",
              facts->question->bands > 1 ? " The other bands move with it." : "");
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

/* "It does not pass 12 1/4 in (31.1 cm): it pulls to about 10 in (25.4 cm)." */
static void add_pass(struct text *text, const struct fit_case *facts, const struct fit_remedy *remedy)
{
    if (!remedy->must)
        return;
    text_add(text, remedy->kind == FIT_REDRAW ? " With as much of each yarn as now it " : " It ");
    text_add(text, remedy->passes ? "passes " : "does not pass ");
    add_length(text, facts, facts->question->must_in);
    if (!remedy->passes) {
        text_add(text, ": it pulls to about ");
        add_length(text, facts, remedy->pulls_to_in);
    }
    text_add(text, ".");
}

/* "3 over after the start and 2 before it; ", "2 over at each edge; " */
static void add_over(struct text *text, int over, bool round)
{
    int half = over / 2;

    if (over == 1)
        text_add(text, round ? "1 over beside the start; " : "1 over at an edge; ");
    else if (over % 2 == 0)
        text_addf(text, round ? "%d over on each side of the start; " : "%d over at each edge; ", half);
    else
        text_addf(text, round ? "%d over after the start and %d before it; "
                              : "%d over at one edge and %d at the other; ", over - half, half);
}

/* What is done to the chart: "2 after column 12; ", "columns 3 and 9 left out; " */
static void add_deed(struct text *text, const struct fit_case *facts, const struct fit_remedy *remedy)
{
    const struct remake *remake = &remedy->remake;

    switch (remedy->kind) {
    case FIT_PLAIN_COLUMNS:
        text_addf(text, facts->question->chart ? "%d after column %d; " : "%d between motifs; ",
                  remedy->plain_columns, remake->plain_after);
        break;
    case FIT_TRIM_OR_PAD:
        if (!facts->question->chart)
            break;
        text_addf(text, "column%s %d", remake->ncolumns == 2 ? "s" : "", remake->column[0] + 1);
        if (remake->ncolumns == 2)
            text_addf(text, " and %d", remake->column[1] + 1);
        text_add(text, remake->twice ? " worked twice; " : " left out; ");
        break;
    case FIT_PART_REPEATS:
        add_over(text, remedy->left_over, facts->question->round);
        break;
    case FIT_REDRAW:
        text_addf(text, "drawn %d columns wide in place of %d; ", remedy->repeat_sts,
                  facts->question->repeat_sts);
        break;
    case FIT_ANOTHER_COUNT:
    case FIT_SHAPE:
    case FIT_ANOTHER_GAUGE:
    case FIT_KIND_COUNT:
        break;
    }
}

/* "; longest float 12 stitches in place of 10; 2 rounds of the chart no longer one and one" */
static void add_price(struct text *text, const struct fit_case *facts, const struct fit_remedy *remedy)
{
    if (remedy->floats.known && facts->floats.known &&
        remedy->floats.longest_sts != facts->floats.longest_sts) {
        text_addf(text, "; longest float %d, now %d", remedy->floats.longest_sts,
                  facts->floats.longest_sts);
    }
    if (remedy->floats.known && facts->floats.known &&
        remedy->floats.catches_fewest > facts->floats.catches_fewest) {
        text_add(text, "; ");
        text_grouped(text, (long)remedy->floats.catches_fewest);
        text_add(text, remedy->floats.catches_fewest == 1 ? " catch, now " : " catches, now ");
        text_grouped(text, (long)facts->floats.catches_fewest);
    }
    if (remedy->ntorn_rows > 0) {
        text_add(text, "; cuts a line in ");
        add_rows(text, facts, remedy->torn_rows, remedy->ntorn_rows);
    }
    if (remedy->nuneven_rows > 0) {
        text_add(text, "; ");
        add_rows(text, facts, remedy->uneven_rows, remedy->nuneven_rows);
        text_add(text, " no longer one and one");
    }
    if (remedy->must && !remedy->passes)
        text_add(text, "; does not pass");
    if (remedy->must && remedy->passes && !stretch_reaches(facts->pulls_to_in, facts->question->must_in)) {
        text_add(text, "; passes ");
        add_length(text, facts, facts->question->must_in);
    }
}

const char *fit_brief(struct work *work, const struct fit_case *facts,
                      const struct fit_remedy *remedy)
{
    struct text text = text_create(work->arena);

    add_deed(&text, facts, remedy);
    add_stitches(&text, remedy->stitches);
    text_add(&text, remedy->kind == FIT_SHAPE ? " in the band, " : ", ");
    add_size(&text, facts, remedy, true);
    if (remedy->kind == FIT_SHAPE)
        text_addf(&text, "; the rest keeps %" PRId64, facts->body_sts);
    if (remedy->kind == FIT_ANOTHER_GAUGE) {
        text_add(&text, ", on a new swatch of ");
        text_decimal(&text, remedy->gauge_per_in * (facts->question->cm_first ? 10 / 2.54 : 4), 1);
        text_add(&text, facts->question->cm_first ? " stitches to 10 cm" : " stitches to 4 in");
    }
    add_price(&text, facts, remedy);
    return text.bytes;
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
    add_uneven(&text, facts, remedy);
    add_floats(&text, facts, remedy);
    add_pass(&text, facts, remedy);
    return text.bytes;
}
