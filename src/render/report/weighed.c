/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the scale said on the way, and what that moves.
 */
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "report.h"

enum { AT = 2, NAME_AT = 6, NAME_WIDE = 24 };
enum { SHOULD_TO = 39, WAS_TO = 48, RECKONED_TO = 58, USED_TO = 66, OFF_TO = 73, MAY_TO = 80 };
enum { LABEL_AT = 4, BEFORE_TO = 56, AFTER_TO = 78 };

static const char *fine_grams(const struct page *page, double grams)
{
    return words_format(page, "%s" WORDS_TIE "g", words_decimal(page, grams, 1));
}

static const char *whole_percent(const struct page *page, double part)
{
    return words_format(page, "%s" WORDS_TIE "%%", words_decimal(page, 100.0 * part, 0));
}

/* --- reading by reading -------------------------------------------------------------------- */

static const char *reading_name(const struct page *page, const struct plan_weighed_reading *reading)
{
    const struct plan_weighing at = {reading->piece, reading->step, reading->time, NULL};
    const char *name = report_weighing_name(page, &at), *ordinal = words_ordinal(page, reading->piece);

    if (reading->step == page->plan->piece.nsteps)
        return page->plan->make > 1 ? words_format(page, "the %s piece", ordinal) : "the whole piece";
    if (page->plan->make > 1 && reading->step >= 0)
        return words_format(page, "%s (%s)", words_clip(page, name, NAME_WIDE - 6), ordinal);
    return words_clip(page, name, NAME_WIDE);
}

static void put_reading(const struct page *page, const struct plan_weighed_reading *reading)
{
    struct text line = page_line(page);
    bool step = reading->step >= 0 && reading->step < page->plan->piece.nsteps;

    if (step)
        line_to(&line, AT + 2, words_format(page, "%d", reading->step + 1));
    line_at(&line, NAME_AT, reading_name(page, reading));
    line_to(&line, SHOULD_TO, fine_grams(page, reading->should_g));
    line_to(&line, WAS_TO, fine_grams(page, reading->weighed_g));
    if (reading->step >= 0 && (reading->reckoned_g > 0.0 || reading->verdict != WEIGHED_NOTHING)) {
        line_to(&line, RECKONED_TO, fine_grams(page, reading->reckoned_g));
        line_to(&line, USED_TO, fine_grams(page, reading->used_g));
    }
    if (isfinite(reading->off_part)) {
        line_to(&line, OFF_TO,
                words_format(page, "%s%s", reading->off_part < 0.0 ? "-" : "+",
                             whole_percent(page, fabs(reading->off_part))));
        line_to(&line, MAY_TO, whole_percent(page, reading->explained_part));
    }
    page_put(page, &line);
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
        page_say(page, LABEL_AT,
                 words_format(page, "Weighing%s %s: %s.", n == 1 ? "" : "s",
                              words_numbers(page, numbers, n),
                              verdict_words((enum weighed_verdict)verdict)));
    }
    if (within > 0 && other == 0)
        page_say(page, LABEL_AT, "All within what the scale and your hands explain.");
}

static void put_readings(const struct page *page, int yarn)
{
    const struct plan_weighed *weighed = page->plan->weighed;
    struct text line = page_line(page);

    line_at(&line, AT, words_clip(page, words_yarn(page, yarn), NAME_WIDE));
    line_to(&line, SHOULD_TO, "should");
    line_to(&line, WAS_TO, "was");
    line_to(&line, RECKONED_TO, "reckoned");
    line_to(&line, USED_TO, "used");
    line_to(&line, OFF_TO, "off");
    line_to(&line, MAY_TO, "may be");
    page_put(page, &line);
    for (int i = 0; i < weighed->nreadings; i++)
        if (weighed->readings[i].yarn == yarn)
            put_reading(page, &weighed->readings[i]);
    say_verdicts(page, yarn);
}

/* --- what moved ------------------------------------------------------------------------------ */

static void put_pair(const struct page *page, const char *label, const char *before,
                     const char *after)
{
    struct text line = page_line(page);

    line_at(&line, LABEL_AT, label);
    line_to(&line, BEFORE_TO, before);
    line_to(&line, AFTER_TO, after);
    page_put(page, &line);
}

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

    put_pair(page, "from here to the end", "by the swatch", "by the scale too");
    put_pair(page, "still to be knitted", words_yarn_length(page, before->rest_m),
             words_yarn_length(page, after->rest_m));
    put_pair(page, "nine times in ten", range(page, before), range(page, after));
    put_pair(page, "in weight", fine_grams(page, before->rest_g), fine_grams(page, after->rest_g));
    put_pair(page, "enough, times in 100", report_chance(page, before->chance),
             report_chance(page, after->chance));
    put_pair(page, "used, and to be knitted", words_yarn_length(page, before->length_m),
             words_yarn_length(page, after->length_m));
    if (before->buy.balls > 0 && after->buy.balls > 0) {
        put_pair(page, "balls in all", words_grouped(page, before->buy.balls),
                 words_grouped(page, after->buy.balls));
        put_pair(page, "of the last one, with the spare", call_words(page, before), call_words(page, after));
    }
    if (yarn->weigh_by >= 0)
        put_pair(page, "to weigh at its last weigh-in", fine_grams(page, before->by_need_g),
                 fine_grams(page, after->by_need_g));
}

static void say_by(const struct page *page, const struct plan_weighed_yarn *yarn)
{
    const struct plan_weigh_by *by;

    if (yarn->weigh_by < 0)
        return;
    by = &page->plan->weigh_by[yarn->weigh_by];
    page_say(page, LABEL_AT,
             words_format(page, "Its last weigh-in: before %s%s it must weigh %s g or more.",
                          report_weigh_place(page, by),
                          page->plan->make > 1 ? words_format(page, " in the %s piece",
                                                              words_ordinal(page, by->piece))
                                               : "",
                          words_decimal(page, ceil(yarn->after.by_need_g), 0)));
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
        page_say(page, LABEL_AT,
                 words_format(page,
                              "%s will run out: %s are left and %s are needed. That is about at %s%s. "
                              "%s. If there is none to be had, work from there on in another yarn, or "
                              "end there.",
                              name, fine_grams(page, yarn->left_g),
                              fine_grams(page, yarn->after.rest_g),
                              report_weigh_place(page, &yarn->out), piece,
                              more_words(page, &yarn->after)));
    else if (yarn->after.more_balls > 0)
        page_say(page, LABEL_AT,
                 words_format(page,
                              "%s may run out: %s are left and about %s are needed. %s. Or weigh again "
                              "after the next step, before you decide.",
                              name, fine_grams(page, yarn->left_g),
                              fine_grams(page, yarn->after.rest_g), more_words(page, &yarn->after)));
    else if (yarn->after.rest_m > 0.0)
        page_say(page, LABEL_AT,
                 words_format(page, "There is enough: %s are left and about %s are needed.",
                              fine_grams(page, yarn->left_g),
                              fine_grams(page, yarn->after.rest_g)));
    else
        page_say(page, LABEL_AT, "All of it is knitted.");
}

static void put_yarn(const struct page *page, const struct plan_weighed_yarn *yarn, bool readings)
{
    if (readings) {
        put_readings(page, yarn->yarn);
    } else {
        struct text line = page_line(page);

        line_at(&line, AT, words_yarn(page, yarn->yarn));
        page_put(page, &line);
    }
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
    page_say(page, AT, words_format(page, "From here on should be left%s",
                                    page->plan->make > 1
                                        ? words_format(page, ", in the %s piece",
                                                       words_ordinal(page, weighed->ahead[0].piece))
                                        : ""));
    report_weigh_table(page, yarns, n, weighed->ahead, weighed->nahead);
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
