/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the balls should weigh on the way; what the scale said, and what that moves.
 */
#include <inttypes.h>
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "report.h"

enum { AT = 2, STEP_WIDE = 25, COLUMN_WIDE = 13, YARNS_MAX = 4 };

/* Number of the step, its name, a column a yarn. */
static const struct page_column left_columns[] = {RIGHT(AT + 2), LEFT(6), RIGHT(40), RIGHT(53), RIGHT(66), RIGHT(79)};

static const char *fine_grams(const struct page *page, double grams)
{
    return words_format(page, "%s" WORDS_TIE "g", words_decimal(page, grams, 1));
}

static const char *step_name(const struct page *page, int index)
{
    const struct plan_piece *piece = &page->plan->piece;
    const struct plan_step *step = &piece->steps[index];

    switch (step->kind) {
    case STEP_CAST_ON:
        return "cast-on";
    case STEP_RIB:
        return "rib";
    case STEP_SHAPE:
        return step->to_sts > step->from_sts ? "increases" : "decreases";
    case STEP_BAND:
        return words_format(page, "band %s", step->name);
    case STEP_BIND_OFF:
        return "bind-off";
    case STEP_PLAIN:
        break;
    }
    return *step->name ? words_format(page, "part %s", step->name)
                       : words_format(page, "plain, %s", words_rounds(page, step->rows));
}

static bool swatch_is_counted(const struct page *page)
{
    for (int i = 0; i < page->plan->piece.nyarns; i++)
        if (page->plan->piece.yarns[i].use_m[USE_SWATCH] > 0.0)
            return true;
    return false;
}

static const char *weighing_name(const struct page *page, const struct plan_weighing *weighing)
{
    const char *name;

    if (weighing->piece > 1 && weighing->step == page->plan->piece.nsteps)
        return words_format(page, "the %s piece", words_ordinal(page, weighing->piece));
    if (weighing->step < 0)
        return swatch_is_counted(page) ? "to begin with, swatch off" : "to begin with";
    if (weighing->step == page->plan->piece.nsteps)
        return "sewing";
    name = step_name(page, weighing->step);
    if (weighing->time == 0)
        return words_clip(page, name, STEP_WIDE);
    return words_format(page, "%s, %s time", words_clip(page, name, STEP_WIDE - 10),
                        words_ordinal(page, weighing->time));
}

/* before: the step of the line above; its number is put once. */
static void put_weighing(const struct page *page, const int *yarns, int nyarns,
                         const struct plan_weighing *weighing, int before)
{
    bool numbered = weighing->step >= 0 && weighing->step != before && weighing->step < page->plan->piece.nsteps;
    const char *cells[2 + YARNS_MAX] = {numbered ? words_format(page, "%d", weighing->step + 1) : "",
                                        weighing_name(page, weighing)};

    for (int i = 0; i < nyarns; i++)
        cells[2 + i] = fine_grams(page, weighing->left_g[yarns[i]]);
    page_cells(page, left_columns, cells, 2 + (size_t)nyarns);
}

/* As many yarns as go side by side. */
static void put_weighings(const struct page *page, const int *yarns, int nyarns,
                          const struct plan_weighing *list, int count)
{
    const char *heads[2 + YARNS_MAX] = {"", ""};

    for (int i = 0; i < nyarns; i++)
        heads[2 + i] = words_clip(page, words_yarn(page, yarns[i]), COLUMN_WIDE - 1);
    page_cells(page, left_columns, heads, 2 + (size_t)nyarns);
    for (int i = 0; i < count; i++)
        put_weighing(page, yarns, nyarns, &list[i], i > 0 ? list[i - 1].step : -1);
}

static void put_weigh_table(const struct page *page, const int *yarns, int nyarns,
                            const struct plan_weighing *list, int count)
{
    for (int from = 0; from < nyarns; from += YARNS_MAX) {
        if (from > 0)
            page_gap(page);
        put_weighings(page, yarns + from, nyarns - from < YARNS_MAX ? nyarns - from : YARNS_MAX, list, count);
    }
}

static const char *place_words(const struct page *page, const struct plan_weigh_by *by)
{
    const struct plan_piece *piece = &page->plan->piece;
    bool band = by->step < piece->nsteps && piece->steps[by->step].kind == STEP_BAND;
    const char *name;

    if (by->step == piece->nsteps)
        return "sewing";
    name = step_name(page, by->step);
    if (by->row == 0)
        return words_format(page, "step %d, the %s,", by->step + 1, name);
    if (by->time > 0)
        name = words_format(page, "the %s time of %s", words_ordinal(page, by->time), name);
    return words_format(page, "%s%s %" PRId64 " of %s%s", band ? "chart " : "", words_round(page),
                        by->row, name,
                        band ? "" : words_format(page, " (step %d)", by->step + 1));
}

const char *report_weigh_by(const struct page *page, const struct plan_weigh_by *by)
{
    const struct plan_yarn *yarn = &page->plan->piece.yarns[by->yarn];

    return words_format(page, "%s: before %s%s %s must weigh %s" WORDS_TIE "g or more for the rest.",
                        yarn->name, place_words(page, by),
                        page->plan->make > 1 ? words_format(page, " in the %s piece",
                                                            words_ordinal(page, by->piece))
                                             : "",
                        by->need_g <= yarn->ball_g ? "the last ball" : "what is left",
                        words_decimal(page, ceil(by->need_g), 0));
}

void report_weigh_in(const struct page *page)
{
    const struct plan *plan = page->plan;
    int yarns[GRID_YARNS_MAX], n = 0;

    for (int i = 0; i < plan->piece.nyarns; i++)
        if (plan->piece.yarns[i].used && plan->piece.yarns[i].has_ball)
            yarns[n++] = i;
    if (n == 0 || plan->nweighings == 0)
        return;
    page_heading(page, "WEIGH AS YOU GO",
                 words_format(page, "what should be left after each step, all balls of a yarn together%s",
                              plan->make > 1 ? "; step by step in the first piece" : ""));
    put_weigh_table(page, yarns, n, plan->weighings, plan->nweighings);
    page_gap(page);
    for (int i = 0; i < plan->nweigh_by; i++)
        page_say(page, AT, report_weigh_by(page, &plan->weigh_by[i]));
}

/* --- weighed on the way ------------------------------------------------------------------------- */

enum { NAME_WIDE = 24, LABEL_AT = 4 };

/* Number of the step, its name; should, was, reckoned, used, off, may be. */
static const struct page_column reading_columns[] = {RIGHT(AT + 2), LEFT(6),   RIGHT(39), RIGHT(48),
                                                     RIGHT(58),     RIGHT(66), RIGHT(73), RIGHT(80)};
static const struct page_column head_columns[] = {LEFT(AT),  RIGHT(39), RIGHT(48), RIGHT(58),
                                                  RIGHT(66), RIGHT(73), RIGHT(80)};
static const struct page_column pair_columns[] = {LEFT(LABEL_AT), RIGHT(56), RIGHT(78)};

static const char *whole_percent(const struct page *page, double part)
{
    return words_format(page, "%s" WORDS_TIE "%%", words_decimal(page, 100.0 * part, 0));
}

/* --- reading by reading -------------------------------------------------------------------- */

static const char *reading_name(const struct page *page, const struct plan_weighed_reading *reading)
{
    const struct plan_weighing at = {reading->piece, reading->step, reading->time, NULL};
    const char *name = weighing_name(page, &at), *ordinal = words_ordinal(page, reading->piece);

    if (reading->step == page->plan->piece.nsteps)
        return page->plan->make > 1 ? words_format(page, "the %s piece", ordinal) : "the whole piece";
    if (page->plan->make > 1 && reading->step >= 0)
        return words_format(page, "%s (%s)", words_clip(page, name, NAME_WIDE - 6), ordinal);
    return words_clip(page, name, NAME_WIDE);
}

static void put_reading(const struct page *page, const struct plan_weighed_reading *reading)
{
    bool step = reading->step >= 0 && reading->step < page->plan->piece.nsteps;
    bool used = reading->step >= 0 && (reading->reckoned_g > 0.0 || reading->verdict != WEIGHED_NOTHING);
    bool off = isfinite(reading->off_part);

    page_row(page, reading_columns, step ? words_format(page, "%d", reading->step + 1) : "",
             reading_name(page, reading), fine_grams(page, reading->should_g),
             fine_grams(page, reading->weighed_g), used ? fine_grams(page, reading->reckoned_g) : "",
             used ? fine_grams(page, reading->used_g) : "",
             off ? words_format(page, "%s%s", reading->off_part < 0.0 ? "-" : "+",
                                whole_percent(page, fabs(reading->off_part)))
                 : "",
             off ? whole_percent(page, reading->explained_part) : "");
}

static const char *verdict_words(enum weighed_verdict verdict)
{
    switch (verdict) {
    case WEIGHED_MORE:
        return "more was used than scale and hands explain. Your hands have loosened, or the swatch "
               "was tighter";
    case WEIGHED_LESS:
        return "less was used than scale and hands explain. Your hands have tightened, or the swatch "
               "was looser";
    case WEIGHED_FAR_MORE:
        return "far more than hands ever use. Look for a ball left off the scale, yarn wound off or a "
               "wrong step; until then the plan takes it that you use so much";
    case WEIGHED_FAR_LESS:
        return "far less than hands ever use. Look for a wrong step, a bag or another ball on the "
               "scale; until then the plan goes by what is left and learns nothing from it";
    case WEIGHED_NOTHING:
        return "too little was used for the scale to tell";
    case WEIGHED_WITHIN:
        break;
    }
    return NULL;
}

/* Weighings of this yarn with this verdict; those that have nothing to tell of are left out. */
static int find_verdict(const struct page *page, int yarn, enum weighed_verdict verdict, int *numbers)
{
    const struct plan_weighed *weighed = page->plan->weighed;
    int n = 0;

    for (int i = 0; i < weighed->nreadings; i++) {
        const struct plan_weighed_reading *reading = &weighed->readings[i];

        if (reading->yarn == yarn && reading->verdict == verdict && reading->step >= 0 &&
            (reading->reckoned_g > 0.0 || verdict != WEIGHED_NOTHING))
            numbers[n++] = reading->number;
    }
    return n;
}

static void say_verdicts(const struct page *page, int yarn)
{
    int *numbers = arena_alloc(page->work->arena, (size_t)page->plan->weighed->nreadings,
                               sizeof *numbers);
    int within = find_verdict(page, yarn, WEIGHED_WITHIN, numbers), other = 0;

    for (int verdict = WEIGHED_NOTHING; verdict <= WEIGHED_FAR_LESS; verdict++) {
        int n = find_verdict(page, yarn, (enum weighed_verdict)verdict, numbers);

        if (n == 0 || verdict == WEIGHED_WITHIN)
            continue;
        other += verdict != WEIGHED_NOTHING;
        page_sayf(page, LABEL_AT, "Weighing%s %s: %s.", n == 1 ? "" : "s",
                  words_numbers(page, numbers, n), verdict_words((enum weighed_verdict)verdict));
    }
    if (within > 0 && other == 0)
        page_say(page, LABEL_AT, "All within what the scale and your hands explain.");
}

static void put_readings(const struct page *page, int yarn)
{
    const struct plan_weighed *weighed = page->plan->weighed;

    page_row(page, head_columns, words_clip(page, words_yarn(page, yarn), NAME_WIDE), "should", "was", "reckoned",
             "used", "off", "may be");
    for (int i = 0; i < weighed->nreadings; i++)
        if (weighed->readings[i].yarn == yarn)
            put_reading(page, &weighed->readings[i]);
    say_verdicts(page, yarn);
}

/* --- what moved ------------------------------------------------------------------------------ */

static const char *range(const struct page *page, const struct plan_outlook *outlook)
{
    const char *low = words_yarn_length_leading(page, outlook->low_m);

    return words_format(page, "%.*s to %s", (int)strcspn(low, WORDS_TIE), low,
                        words_yarn_length_leading(page, outlook->high_m));
}

static const char *call_words(const struct page *page, const struct plan_outlook *outlook)
{
    const char *used = words_percent(page, outlook->buy.last_used);

    switch (outlook->close_call) {
    case CALL_NEARLY_USED:
        return words_format(page, "a close call, %s", used);
    case CALL_HARDLY_TOUCHED:
        return words_format(page, "hardly touched, %s", used);
    case CALL_NONE:
        break;
    }
    return used;
}

static void put_moved(const struct page *page, const struct plan_weighed_yarn *yarn)
{
    const struct plan_outlook *before = &yarn->before, *after = &yarn->after;

    page_row(page, pair_columns, "from here to the end", "by the swatch", "by the scale too");
    page_row(page, pair_columns, "still to be knitted", words_yarn_length(page, before->rest_m),
             words_yarn_length(page, after->rest_m));
    page_row(page, pair_columns, "nine times in ten", range(page, before), range(page, after));
    page_row(page, pair_columns, "in weight", fine_grams(page, before->rest_g), fine_grams(page, after->rest_g));
    page_row(page, pair_columns, "enough, times in 100", report_chance(page, before->chance),
             report_chance(page, after->chance));
    page_row(page, pair_columns, "used, and to be knitted", words_yarn_length(page, before->length_m),
             words_yarn_length(page, after->length_m));
    if (before->buy.balls > 0 && after->buy.balls > 0) {
        page_row(page, pair_columns, "balls in all", words_grouped(page, before->buy.balls),
                 words_grouped(page, after->buy.balls));
        page_row(page, pair_columns, "of the last one, with the spare", call_words(page, before),
                 call_words(page, after));
    }
    if (yarn->weigh_by >= 0)
        page_row(page, pair_columns, "to weigh at its last weigh-in", fine_grams(page, before->by_need_g),
                 fine_grams(page, after->by_need_g));
}

static void say_by(const struct page *page, const struct plan_weighed_yarn *yarn)
{
    const struct plan_weigh_by *by;

    if (yarn->weigh_by < 0)
        return;
    by = &page->plan->weigh_by[yarn->weigh_by];
    page_sayf(page, LABEL_AT, "Its last weigh-in: before %s%s it must weigh %s g or more.",
              place_words(page, by),
              page->plan->make > 1
                  ? words_format(page, " in the %s piece", words_ordinal(page, by->piece))
                  : "",
              words_decimal(page, ceil(yarn->after.by_need_g), 0));
}

static const char *more_words(const struct page *page, const struct plan_outlook *after)
{
    return words_format(page, "%s more of the same lot %s enough %s times in 100",
                        words_count(page, after->more_balls, "ball", "balls"),
                        after->more_balls == 1 ? "makes it" : "make it",
                        report_chance(page, after->more_chance));
}

static void say_out(const struct page *page, const struct plan_weighed_yarn *yarn)
{
    const char *name = page->plan->piece.yarns[yarn->yarn].name;
    const char *piece = page->plan->make > 1
                            ? words_format(page, " in the %s piece",
                                           words_ordinal(page, yarn->out.piece))
                            : "";

    if (yarn->runs_out)
        page_sayf(page, LABEL_AT,
                  "%s will run out: %s are left and %s are needed. That is about at %s%s. %s. If "
                  "there is none to be had, work from there on in another yarn, or end there.",
                  name, fine_grams(page, yarn->left_g), fine_grams(page, yarn->after.rest_g),
                  place_words(page, &yarn->out), piece, more_words(page, &yarn->after));
    else if (yarn->after.more_balls > 0)
        page_sayf(page, LABEL_AT,
                  "%s may run out: %s are left and about %s are needed. %s. Or weigh again after "
                  "the next step, before you decide.",
                  name, fine_grams(page, yarn->left_g), fine_grams(page, yarn->after.rest_g),
                  more_words(page, &yarn->after));
    else if (yarn->after.rest_m > 0.0)
        page_sayf(page, LABEL_AT, "There is enough: %s are left and about %s are needed.",
                  fine_grams(page, yarn->left_g), fine_grams(page, yarn->after.rest_g));
    else
        page_say(page, LABEL_AT, "All of it is knitted.");
}

static void put_yarn(const struct page *page, const struct plan_weighed_yarn *yarn, bool readings)
{
    if (readings)
        put_readings(page, yarn->yarn);
    else
        page_row(page, head_columns, words_yarn(page, yarn->yarn));
    if (!yarn->weighed)
        page_say(page, LABEL_AT, readings ? "Not weighed since the start: by the other yarns' word."
                                          : "Not weighed: by the other yarns' word.");
    say_out(page, yarn);
    if (yarn->after.rest_m > 0.0)
        put_moved(page, yarn);
    say_by(page, yarn);
}

static bool has_readings(const struct plan_weighed *weighed, int yarn)
{
    for (int i = 0; i < weighed->nreadings; i++)
        if (weighed->readings[i].yarn == yarn)
            return true;
    return false;
}

static void put_ahead(const struct page *page)
{
    const struct plan_weighed *weighed = page->plan->weighed;
    int yarns[GRID_YARNS_MAX], n = 0;

    if (weighed->nahead == 0)
        return;
    for (int i = 0; i < weighed->nyarns; i++)
        yarns[n++] = weighed->yarns[i].yarn;
    page_gap(page);
    page_sayf(page, AT, "From here on should be left%s",
              page->plan->make > 1 ? words_format(page, ", in the %s piece",
                                                  words_ordinal(page, weighed->ahead[0].piece))
                                   : "");
    put_weigh_table(page, yarns, n, weighed->ahead, weighed->nahead);
}

void report_weighed(const struct page *page)
{
    const struct plan_weighed *weighed = page->plan->weighed;

    if (!weighed)
        return;
    page_heading(page, "WHAT THE SCALE SAYS",
                 words_format(page, "a scale that shows %s g; bands, cores and bags taken off",
                              words_decimal(page, weighed->scale_step_g, 2)));
    for (int i = 0; i < weighed->nyarns; i++) {
        if (i > 0)
            page_gap(page);
        put_yarn(page, &weighed->yarns[i], has_readings(weighed, weighed->yarns[i].yarn));
    }
    page_gap(page);
    page_say(page, AT,
             "Should: by the plan. Off: used against reckoned since the weighing before. May be: how "
             "far scale, hands, swatch and the weight to begin with explain, nine times in ten.");
    if (weighed->excess > 1.0)
        page_say(page, AT,
                 "These weighings differ by more than their errors; the ranges are wider for it.");
    put_ahead(page);
}
