/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How much of each yarn is likely, how many balls are enough, and what would make it surer.
 */
#include <math.h>
#include <string.h>

#include "report.h"

enum { SAY_AT = 2 };

static const double as_good_as_always = 0.999;

/* "93", "99.4": rounded down, and never 100, for nothing is certain. */
const char *report_chance(const struct page *page, double chance)
{
    const double high = 0.99, low = 0.01;

    if (chance >= as_good_as_always)
        return "over 99.9";
    if (chance >= high)
        return words_decimal(page, floor(1000.0 * chance) / 10.0, 1);
    return chance < low ? "under 1" : words_decimal(page, floor(100.0 * chance), 0);
}

/* "4 balls are enough 7 times in 100, 5 balls 90, 6 balls over 99.9." */
static void add_enough(const struct page *page, const struct plan_yarn *yarn, struct text *words)
{
    const struct plan_likely *likely = &yarn->likely;
    const struct plan_enough *list = likely->enough;
    bool sure = likely->sure_chance >= as_good_as_always;
    int64_t last = likely->sure_balls + (sure ? 0 : 1), bought = yarn->buy.balls;

    if (list[0].chance >= as_good_as_always && list[0].balls == 0) {
        text_add(words, " what you have is practically always enough.");
        return;
    }
    if (list[0].chance >= as_good_as_always) {
        text_addf(words, " %s practically always enough.",
                  words_count(page, list[0].balls, "ball is", "balls are"));
        return;
    }
    if (last < bought)
        last = bought;
    for (int i = 0; i < likely->nenough && list[i].balls <= last; i++)
        text_addf(words, "%s%s%s %s%s", i == 0 ? " " : ", ",
                  list[i].balls == 0 ? "what you have"
                                     : words_count(page, list[i].balls, "ball", "balls"),
                  i > 0                  ? ""
                  : list[0].balls <= 1 ? " is enough"
                                       : " are enough",
                  report_chance(page, list[i].chance), i == 0 ? " times in 100" : "");
    text_add(words, ".");
}

/* Which number follows from it, where it is not the first named. */
static void add_advice(const struct page *page, const struct plan_yarn *yarn, struct text *words)
{
    const struct plan_likely *likely = &yarn->likely;
    const char *sure = words_percent(page, likely->confidence);

    if (likely->sure_balls < yarn->buy.balls && likely->enough[0].chance >= as_good_as_always)
        text_addf(words, " The %s to spare makes it %s.", words_percent(page, yarn->margin),
                  words_count(page, yarn->buy.balls, "ball", "balls"));
    else if (likely->sure_balls < yarn->buy.balls)
        text_addf(words, " To be %s sure, %s would do; the %s to spare makes it %s.", sure,
                  likely->sure_balls == 0 ? "what you have" : words_grouped(page, likely->sure_balls),
                  words_percent(page, yarn->margin), words_grouped(page, yarn->buy.balls));
    else if (likely->enough[0].balls < likely->sure_balls)
        text_addf(words, " To be %s sure, buy %s.", sure, words_grouped(page, likely->sure_balls));
}

const char *report_range(const struct page *page, const struct plan_yarn *yarn)
{
    const char *low = words_yarn_length_leading(page, yarn->likely.low_m);

    return words_format(page, "%.*s to %s", (int)strcspn(low, WORDS_TIE), low,
                        words_yarn_length_leading(page, yarn->likely.high_m));
}

/* How many balls; between what the yarn lies stands with where it goes. */
const char *report_enough(const struct page *page, const struct plan_yarn *yarn)
{
    struct text words = text_create(page->work->arena);

    if (yarn->likely.nenough == 0)
        return "";
    text_addf(&words, "%s:", yarn->name);
    if (yarn->have_m > 0.0 && yarn->likely.enough[0].balls > 0)
        text_add(&words, " with what you have,");
    add_enough(page, yarn, &words);
    add_advice(page, yarn, &words);
    return words.bytes;
}

static const char *measure_words(enum plan_measure measure, bool plain_swatch)
{
    switch (measure) {
    case MEASURE_STRANDED_ROW:
        return "unravel one uneven stranded row of 40 stitches, such as 28 and 12, and measure both "
               "yarns";
    case MEASURE_PLAIN_ROW:
        return plain_swatch ? "unravel one row of 40 stitches of the plain swatch (knit one more for it) "
                              "and measure it"
                            : "unravel one plain row of 40 stitches (knit one more for it on the swatch) "
                              "and measure it";
    case MEASURE_MARKED:
        return plain_swatch ? "mark off the yarn for 75 stitches or so, measure it and knit it up on the "
                              "plain swatch"
                            : "mark off the yarn for 75 stitches or so, measure it and knit it up plain";
    case MEASURE_WEIGHT:
        return "weigh a stranded swatch of 40 stitches by 44 rows on a scale that counts in 0.1 g";
    case MEASURE_GAUGE:
        return "count the gauge in two more places";
    case MEASURE_NOTHING:
        break;
    }
    return "";
}

/* What to do about a doubt stands at the head; here, what it does to the figure. */
static const char *doubt_words(enum loop_doubt doubt)
{
    return doubt == DOUBT_GAUGE ? "what you measured does not go with your gauge"
                                : "your measurements do not go together";
}

static void say_advice(const struct page *page)
{
    const struct plan_advice *advice = &page->plan->piece.loop.advice;
    enum loop_doubt doubt = page->plan->piece.loop.doubt;

    if (advice->measure == MEASURE_NOTHING) {
        if (doubt != DOUBT_NONE)
            page_sayf(
                page, SAY_AT,
                "All the yarn together is known to within %s only, for %s: measure once more.",
                words_percent(page, advice->part_now), doubt_words(doubt));
        else if (advice->part_now > 0.0)
            page_sayf(page, SAY_AT,
                      "All the yarn together is known to within %s; one measurement more would "
                      "change that little.",
                      words_percent(page, advice->part_now));
        return;
    }
    page_sayf(
        page, SAY_AT,
        "To be surer, %s: all the yarn together would then be known to within about %s, not %s.",
        measure_words(advice->measure, page->plan->piece.loop.plain_group != 0),
        words_percent(page, advice->part_then), words_percent(page, advice->part_now));
}

const char *report_stitch(const struct page *page)
{
    const struct plan_piece *piece = &page->plan->piece;
    struct text words = text_create(page->work->arena);

    if (!piece->loop.by_yarn)
        return words_format(page, "%s of yarn", words_fine_length(page, piece->loop.loop_mm));
    for (int i = 0; i < piece->nyarns; i++)
        if (piece->yarns[i].used)
            text_addf(&words, "%s%s in %s", words.length == 0 ? "" : ", ",
                      words_fine_length(page, piece->yarns[i].loop_mm), piece->yarns[i].name);
    return words.length == 0 ? "" : words.bytes;
}

void report_likely(const struct page *page)
{
    const struct plan_piece *piece = &page->plan->piece;
    bool any = false;

    for (int i = 0; i < piece->nyarns; i++) {
        if (!piece->yarns[i].used || !(piece->yarns[i].likely.high_m > 0.0))
            continue;
        if (!any)
            page_gap(page);
        any = true;
        if (piece->yarns[i].likely.nenough > 0)
            page_say(page, SAY_AT, report_enough(page, &piece->yarns[i]));
    }
    if (any && piece->loop.by_yarn)
        page_sayf(page, SAY_AT, "By what you measured the yarns differ: a stitch takes %s.",
                  report_stitch(page));
    if (any && piece->loop.advice.wanted)
        say_advice(page);
}
