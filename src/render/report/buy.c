/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What to buy, a line a yarn.
 */
#include <inttypes.h>
#include <math.h>

#include "report.h"

enum { NAME_AT = 2, NAME_WIDE = 11 };

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
            report_changes(page, i);
        }
    if (*no_ball)
        page_say(page, NAME_AT, no_ball);
    report_odd_balls(page);
    report_likely(page);
}
