/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What to buy, a line a yarn; how likely it is enough, and what would put a close call right.
 */
#include <inttypes.h>
#include <math.h>
#include <string.h>

#include "report.h"

/* --- how much is likely, how many balls are enough ------------------------------------------- */

enum { NAME_AT = 2, NAME_WIDE = 11, CHANGE_AT = 4 };

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
            page_sayf(page, NAME_AT,
                      "All the yarn together is known to within %s only, for %s: measure once "
                      "more.",
                      words_percent(page, advice->part_now), doubt_words(doubt));
        else if (advice->part_now > 0.0)
            page_sayf(page, NAME_AT,
                      "All the yarn together is known to within %s; one measurement more would "
                      "change that little.",
                      words_percent(page, advice->part_now));
        return;
    }
    page_sayf(page, NAME_AT,
              "To be surer, %s: all the yarn together would then be known to within about %s, not "
              "%s.",
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

static void put_likely(const struct page *page)
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
            page_say(page, NAME_AT, report_enough(page, &piece->yarns[i]));
    }
    if (any && piece->loop.by_yarn)
        page_sayf(page, NAME_AT, "By what you measured the yarns differ: a stitch takes %s.",
                  report_stitch(page));
    if (any && piece->loop.advice.wanted)
        say_advice(page);
}

/* --- what would put a close call right, and where an odd ball hardly shows ------------------- */

static const char *step_words(const struct page *page, const struct plan_change *change)
{
    const struct plan_step *step = &page->plan->piece.steps[change->step];

    return *step->name ? words_format(page, "%s %s", step->kind == STEP_BAND ? "band" : "part",
                                      step->name)
                       : words_format(page, "step %d", change->step + 1);
}

static const char *change_words(const struct page *page, const struct plan_change *change)
{
    const struct plan_piece *piece = &page->plan->piece;
    bool rib = piece->cast_on.has_rib && piece->yarns[change->yarn].use_m[USE_RIB] > 0.0;

    switch (change->kind) {
    case CHANGE_ROUNDS:
        return words_format(page, "%s fewer in %s%s", words_rounds(page, change->rounds),
                            step_words(page, change),
                            page->plan->make > 1 ? " of each piece" : "");
    case CHANGE_UPWARDS:
        return words_format(page, "%s once less upwards", step_words(page, change));
    case CHANGE_REPEATS:
        return words_format(page, "%s with one repeat less, %s, which comes out at %s%s",
                            step_words(page, change),
                            words_count(page, change->stitches, "stitch", "stitches"),
                            words_length(page, change->finished_in),
                            change->has_wanted && change->smaller_in > 0.0
                                ? words_format(page, ", %s smaller than wanted",
                                               words_length(page, change->smaller_in))
                                : "");
    case CHANGE_CAST_ON:
        return words_format(page, "the cast-on%s in %s", rib ? " and its rib" : "",
                            words_yarn(page, change->other));
    case CHANGE_SWATCH:
        return "the swatch ripped and its yarn knitted";
    case CHANGE_BIND_OFF:
        break;
    }
    return words_format(page, "the bind-off in %s", words_yarn(page, change->other));
}

static void say_change(const struct page *page, const struct plan_change *change)
{
    const struct plan_yarn *yarn = &page->plan->piece.yarns[change->yarn];
    const char *then =
        change->buy.balls == 0 ? "nothing to buy"
        : change->buy.balls < yarn->buy.balls
            ? words_format(page, "%s, not %s",
                           words_count(page, change->buy.balls, "ball", "balls"),
                           words_grouped(page, yarn->buy.balls))
            : words_format(page, "%s of the last ball", words_percent(page, change->buy.last_used));

    page_item(page, CHANGE_AT, "-",
              words_format(page, "%s: saves %s; then %s.", change_words(page, change),
                           words_yarn_length(page, change->saved_m), then));
}

static void put_changes(const struct page *page, int yarn)
{
    const struct plan *plan = page->plan;
    bool any = false;

    if (plan->piece.yarns[yarn].close_call == CALL_NONE)
        return;
    for (int i = 0; i < plan->nchanges; i++) {
        if (plan->changes[i].yarn != yarn)
            continue;
        if (!any)
            page_say(page, CHANGE_AT,
                     plan->piece.yarns[yarn].close_call == CALL_HARDLY_TOUCHED
                         ? "Each of these alone would save that ball:"
                         : "Each of these alone would leave room to spare:");
        any = true;
        say_change(page, &plan->changes[i]);
    }
    if (!any && plan->piece.yarns[yarn].close_call == CALL_HARDLY_TOUCHED &&
        plan->piece.yarns[yarn].likely.sure_balls >= plan->piece.yarns[yarn].buy.balls)
        page_say(page, CHANGE_AT,
                 "No plain part a quarter shorter, band once less upwards, repeat less or edge in "
                 "another yarn would save it.");
}

static const char *hidden_words(const struct page *page, const struct plan_yarn *yarn)
{
    const struct plan_piece *piece = &page->plan->piece;
    struct text words = text_create(page->work->arena);
    bool first = true;

    text_addf(&words, "%s: a ball of another dye lot hardly shows in", yarn->name);
    for (int i = 0; i < piece->nbands; i++)
        if (yarn->hide_bands >> i & 1) {
            text_addf(&words, "%s band %s", first ? "" : ",", piece->bands[i].name);
            first = false;
        }
    text_add(&words, ", among other yarns and apart from the rest of its own.");
    return words.bytes;
}

static void put_odd_balls(const struct page *page)
{
    const struct plan_piece *piece = &page->plan->piece;
    int nowhere[GRID_YARNS_MAX], n = 0;

    for (int i = 0; i < piece->nyarns; i++) {
        if (piece->yarns[i].hide_bands)
            page_say(page, NAME_AT, hidden_words(page, &piece->yarns[i]));
        else if (piece->yarns[i].may_differ)
            nowhere[n++] = i;
    }
    if (n > 0)
        page_sayf(page, NAME_AT,
                  "%s: no band hides a ball of another dye lot; if there is one, alternate two %s "
                  "of each lot.",
                  words_yarns(page, nowhere, n), say_rounds(page->plan->round)->many);
}

/* --- what to buy ----------------------------------------------------------------------------- */

/* Yarn, as worked, to buy, balls, left. */
static const struct page_column columns[] = {LEFT(NAME_AT), RIGHT(30), RIGHT(49), RIGHT(60), RIGHT(80)};

const char *report_balls(const struct page *page, const struct plan_yarn *yarn)
{
    if (yarn->have_enough)
        return "none";
    if (yarn->buy.balls == 0)
        return "";
    return words_format(page, "%s %s %s", words_grouped(page, yarn->buy.balls),
                        page->style->utf8 ? "\u00D7" : "x", words_grams(page, yarn->ball_g));
}

static void put_yarn(const struct page *page, const struct plan_yarn *yarn)
{
    page_row(page, columns, words_clip(page, yarn->name, NAME_WIDE), words_yarn_length(page, yarn->length_m),
             words_yarn_length(page, yarn->need_m), report_balls(page, yarn),
             yarn->buy.balls > 0 || yarn->have_enough ? words_yarn_length(page, yarn->buy.left_m) : "");
}

/* --- balls to scale ------------------------------------------------------------------------ */

/* Beyond these on a line the full ones are said in words. */
enum { BALL_WIDE = 10, BALL_LEAST = 2, BALLS_SHOWN = 5 };
static const struct page_column ball_columns[] = {LEFT(NAME_AT), LEFT(14)};

static int ball_signs(const struct plan_piece *piece, const struct plan_yarn *yarn)
{
    double longest_m = 0.0;
    int signs;

    for (int i = 0; i < piece->nyarns; i++)
        if (piece->yarns[i].buy.balls > 0)
            longest_m = fmax(longest_m, piece->yarns[i].ball_m);
    signs = (int)lround(BALL_WIDE * yarn->ball_m / longest_m);
    return signs < BALL_LEAST ? BALL_LEAST : signs;
}

/* What is used at all shows, and so does what is left at all. */
static int used_signs(double part, int signs)
{
    const double hair = 1e-9;
    int used = (int)lround(part * signs);

    if (used == 0 && part > hair)
        return 1;
    return used == signs && part < 1.0 - hair ? signs - 1 : used;
}

static void add_ball(struct text *balls, double part, int signs)
{
    int used = used_signs(part, signs);

    text_add(balls, "[");
    text_repeat(balls, '#', used);
    text_repeat(balls, '-', signs - used);
    text_add(balls, "]");
}

static void put_balls(const struct page *page, const struct plan_yarn *yarn)
{
    struct text balls = text_create(page->work->arena);
    int signs = ball_signs(&page->plan->piece, yarn);
    int64_t full = yarn->buy.balls - 1;

    if (full >= BALLS_SHOWN)
        text_addf(&balls, "%s and ", words_count(page, full, "full ball", "full balls"));
    for (int64_t i = 0; full < BALLS_SHOWN && i < full; i++)
        add_ball(&balls, 1.0, signs);
    add_ball(&balls, yarn->buy.last_used, signs);
    page_row(page, ball_columns, words_clip(page, yarn->name, NAME_WIDE), balls.bytes);
}

static void put_all_balls(const struct page *page)
{
    const struct plan_piece *piece = &page->plan->piece;

    page_say(page, NAME_AT, "The balls by length: # what you need, - what is left over");
    for (int i = 0; i < piece->nyarns; i++)
        if (piece->yarns[i].buy.balls > 0)
            put_balls(page, &piece->yarns[i]);
}

/* The last ball nearly used up, hardly touched, or there for the confidence alone. */
const char *report_call(const struct page *page, const struct plan_yarn *yarn)
{
    const char *used = words_percent(page, yarn->buy.last_used);

    if (yarn->close_call == CALL_NEARLY_USED)
        return words_format(page,
                            "%s: a close call, %s of the last ball is used with the %s to spare "
                            "counted in; how sure that is stands below.",
                            yarn->name, used, words_percent(page, yarn->margin));
    if (yarn->margin_balls == 0 && yarn->buy.balls == 1)
        return words_format(page, "%s: what is in hand may do; the ball is to be %s sure.", yarn->name,
                            words_percent(page, yarn->likely.confidence));
    if (yarn->margin_balls < yarn->buy.balls)
        return words_format(page, "%s: by the %s to spare alone it would be %s; %s be %s sure.",
                            yarn->name, words_percent(page, yarn->margin),
                            words_grouped(page, yarn->margin_balls),
                            yarn->buy.balls - yarn->margin_balls == 1
                                ? words_format(page, "the %s is to",
                                               words_ordinal(page, (int)yarn->buy.balls))
                                : "the rest are to",
                            words_percent(page, yarn->likely.confidence));
    if (yarn->close_call == CALL_HARDLY_TOUCHED)
        return words_format(page, "%s: only %s of the last ball is used.", yarn->name, used);
    return "";
}

const char *report_leftover(const struct page *page, const struct plan_yarn *yarn)
{
    if (!yarn->leftover_may_do)
        return "";
    return words_format(page, "%s: a leftover of %s will do.", yarn->name,
                        words_grams(page, yarn->need_g));
}

const char *report_have(const struct page *page, const struct plan_yarn *yarn)
{
    const char *have = words_yarn_length(page, yarn->have_m);

    if (!(yarn->have_m > 0.0) || !yarn->used)
        return "";
    if (yarn->has_ball)
        have = words_format(page, "%s or %s",
                            words_grams(page, yarn->have_g), have);
    if (yarn->have_enough)
        return words_format(page, "%s: the %s in hand is enough with %s to spare; nothing to buy.",
                            yarn->name, have, words_percent(page, yarn->margin));
    if (yarn->has_ball && yarn->margin_balls == 0)
        return words_format(page, "%s: the %s in hand is used first.", yarn->name, have);
    return words_format(page,
                        "%s: the %s in hand is used first; to buy is what it falls short by.",
                        yarn->name, have);
}

static void say_of(const struct page *page, const struct plan_yarn *yarn)
{
    const char *words[] = {report_have(page, yarn), report_call(page, yarn),
                           report_leftover(page, yarn)};

    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (*words[i])
            page_say(page, NAME_AT, words[i]);
}

const char *report_no_ball(const struct page *page)
{
    const struct plan_piece *piece = &page->plan->piece;
    int yarns[GRID_YARNS_MAX], n = 0;

    for (int i = 0; i < piece->nyarns; i++)
        if (piece->yarns[i].used && !piece->yarns[i].has_ball)
            yarns[n++] = i;
    if (n == 0)
        return "";
    return words_format(page,
                        "To have balls counted for %s, copy weight and length from the band: "
                        "ball = 50 g, 210 m",
                        words_yarns(page, yarns, n));
}

const char report_since_weighed[] = "As reckoned from the swatch, before anything was weighed: what moved "
                                    "since, and what is still to be bought, is under WHAT THE SCALE "
                                    "SAYS.";

void report_buy(const struct page *page)
{
    const struct plan_piece *piece = &page->plan->piece;
    const char *no_ball = report_no_ball(page);
    bool balls = false;

    for (int i = 0; i < piece->nyarns; i++)
        balls = balls || piece->yarns[i].buy.balls > 0;
    if (piece->nyarns == 0)
        return;
    page_heading(page, "BUY",
                 words_format(page, "for %s; each colour in one dye lot", words_pieces(page)));
    if (page->plan->weighed)
        page_say(page, NAME_AT, report_since_weighed);
    page_row(page, columns, "", "as worked",
             words_format(page, "to buy, +%s", words_percent(page, piece->yarns[0].margin)),
             balls ? "balls" : "", balls ? "left after that" : "");
    for (int i = 0; i < piece->nyarns; i++)
        if (piece->yarns[i].used)
            put_yarn(page, &piece->yarns[i]);
    if (balls)
        put_all_balls(page);
    for (int i = 0; i < piece->nyarns; i++)
        if (piece->yarns[i].used) {
            say_of(page, &piece->yarns[i]);
            put_changes(page, i);
        }
    if (*no_ball)
        page_say(page, NAME_AT, no_ball);
    put_odd_balls(page);
    put_likely(page);
}
