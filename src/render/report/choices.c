/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What else could be done with the colours: sew one on afterwards, exchange ground and pattern.
 */
#include <math.h>

#include "base/arena.h"
#include "report.h"

/* --- strand or sew on ---------------------------------------------------------------- */

enum { CHOICE_AT = 4, STRANDED_TO = 48, SEWN_TO = 66 };

static void put_both(const struct page *page, const char *what, const char *stranded,
                     const char *sewn)
{
    struct text line = page_line(page);

    line_at(&line, CHOICE_AT, what);
    line_to(&line, STRANDED_TO, stranded);
    line_to(&line, SEWN_TO, sewn);
    page_put(page, &line);
}

static const char *rows_words(const struct page *page, const struct plan_duplicate *choice)
{
    int *numbers = arena_alloc(page->work->arena, (size_t)choice->nrows, sizeof *numbers);

    for (int i = 0; i < choice->nrows; i++)
        numbers[i] = choice->rows[i].row + 1;
    return words_format(page, "%s%s %s", words_round(page), choice->nrows == 1 ? "" : "s",
                        words_numbers(page, numbers, choice->nrows));
}

static void say_what(const struct page *page, const struct plan_duplicate *choice)
{
    const struct plan_piece *piece = &page->plan->piece;
    const char *where =
        choice->band < 0
            ? "in all the bands it may be sewn on in"
            : words_format(page, "in chart %s of band %s", rows_words(page, choice),
                           piece->bands[choice->band].name);

    page_say(page, 2,
             words_format(page, "%s %s, %s in %s for %s%s.", words_yarn(page, choice->yarn), where,
                          words_count(page, choice->stitches, "stitch", "stitches"),
                          words_count(page, choice->spots, "spot", "spots"), words_pieces(page),
                          choice->sewn_now ? "; now to be sewn on" : "; now stranded"));
}

static void put_figures(const struct page *page, const struct plan_duplicate *choice)
{
    const struct plan_duplicate_way *stranded = &choice->stranded, *sewn = &choice->sewn;

    put_both(page, "", "stranded", "sewn on");
    put_both(page,
             words_format(page, "yarn of %s", words_clip(page, words_yarn(page, choice->yarn), 16)),
             words_yarn_length(page, stranded->own_m), words_yarn_length(page, sewn->own_m));
    put_both(page, words_format(page, "all yarn of those %ss", words_round(page)),
             words_yarn_length(page, stranded->all_m), words_yarn_length(page, sewn->all_m));
    put_both(page, "of that waits and tails",
             words_yarn_length(page, choice->stranded_apart.all_m),
             words_yarn_length(page, choice->sewn_apart.all_m));
    put_both(page, "catches, the fewest", words_grouped(page, stranded->catches),
             words_grouped(page, sewn->catches));
    put_both(page, words_format(page, "%ss in three colours", words_round(page)),
             words_grouped(page, stranded->rows_three), words_grouped(page, sewn->rows_three));
    put_both(page, "time", words_hours(page, stranded->hours), words_hours(page, sewn->hours));
}

static bool saves_any(const struct plan_duplicate *choice)
{
    return choice->saved_catches > 0 || choice->saved_rows_three > 0;
}

/* "saves 36 catches and 6 rounds in three colours" */
static const char *saved_words(const struct page *page, const struct plan_duplicate *choice)
{
    const char *catches = words_count(page, choice->saved_catches, "catch", "catches");
    const char *rounds =
        words_format(page, "%s in three colours", words_rounds(page, choice->saved_rows_three));

    if (choice->saved_catches > 0 && choice->saved_rows_three > 0)
        return words_format(page, "saves %s and %s", catches, rounds);
    if (choice->saved_catches > 0)
        return words_format(page, "saves %s", catches);
    if (choice->saved_rows_three > 0)
        return words_format(page, "saves %s", rounds);
    return "saves no catches";
}

static const char *yarn_words(const struct page *page, const struct plan_duplicate *choice)
{
    return words_format(page, "takes %s %s yarn", words_yarn_length(page, fabs(choice->saved_m)),
                        choice->saved_m > 0.0 ? "less" : "more");
}

static void say_verdict(const struct page *page, const struct plan_duplicate *choice)
{
    const char *saved = saved_words(page, choice), *yarn = yarn_words(page, choice);
    const char *time = words_hours(page, fabs(choice->saved_hours));

    if (choice->verdict == DUPLICATE_SEW)
        page_say(page, CHOICE_AT,
                 words_format(page, "Sew it on: that %s and %s, and %s.", saved, time, yarn));
    else if (choice->verdict == DUPLICATE_STRAND && !saves_any(choice))
        page_say(page, CHOICE_AT,
                 words_format(page, "Strand it: sewing it on %s and costs %s more.", yarn, time));
    else if (choice->verdict == DUPLICATE_STRAND)
        page_say(page, CHOICE_AT,
                 words_format(page,
                              "Strand it, unless what it saves is worth the time: sewing it on %s, "
                              "but %s and costs %s more.",
                              saved, yarn, time));
    else
        page_say(page, CHOICE_AT,
                 words_format(page, "As you like: %s is quicker by %s; sewing it on %s, and %s.",
                              choice->saved_hours > 0.0 ? "sewing it on" : "stranding it", time,
                              saved, yarn));
}

static void say_choice(const struct page *page, const struct plan_duplicate *choice, bool first)
{
    const struct plan *plan = page->plan;

    if (first)
        page_heading(page, "STRAND IT OR SEW IT ON AFTERWARDS",
                     words_format(page, "at %s stitches an hour%s",
                                  words_grouped(page, llround(plan->pace_sts_per_hour)),
                                  plan->pace_given ? "" : "; yours goes under [pace]"));
    else
        page_gap(page);
    say_what(page, choice);
    put_figures(page, choice);
    report_sewing_rows(page, choice);
    say_verdict(page, choice);
}

void report_duplicates(const struct page *page)
{
    const struct plan *plan = page->plan;
    bool any = false;

    for (int i = 0; i < plan->nduplicates; i++)
        if (plan->duplicates[i].notable) {
            say_choice(page, &plan->duplicates[i], !any);
            any = true;
        }
    for (int i = 0; i < plan->nduplicate_yarns; i++)
        if (plan->duplicate_yarns[i].notable)
            say_choice(page, &plan->duplicate_yarns[i], false);
    if (any)
        page_say(page, 2,
                 "Duplicate stitch lies on top: a little thicker, and best done after "
                 "washing.");
}

/* --- the other way round ---------------------------------------------------------------- */

enum {
    NAME_AT = 2,
    NAME_WIDE = 11,
    CHARTED_TO = 30,
    OTHER_TO = 64,
    BALLS_FURTHER = 7,
    CATCHES_FURTHER = 15
};

static void put_amount(const struct page *page, struct text *line, int to,
                       const struct plan_yarn *yarn)
{
    line_to(line, to, words_yarn_length(page, yarn->length_m));
    line_to(line, to + BALLS_FURTHER, yarn->has_ball ? words_grouped(page, yarn->buy.balls) : ".");
    line_to(line, to + CATCHES_FURTHER, words_grouped(page, yarn->catches));
}

static void put_exchanged_head(const struct page *page)
{
    struct text above = page_line(page), below = page_line(page);
    const int to[2] = {CHARTED_TO, OTHER_TO};

    line_to(&above, CHARTED_TO, "as charted");
    line_to(&above, OTHER_TO, "exchanged");
    for (int i = 0; i < 2; i++) {
        line_to(&below, to[i], "yarn");
        line_to(&below, to[i] + BALLS_FURTHER, "balls");
        line_to(&below, to[i] + CATCHES_FURTHER, "catches");
    }
    page_put(page, &above);
    page_put(page, &below);
}

/* "the two yarns of bands a and b", "cream and slate of band a" */
static const char *exchanged_words(const struct page *page)
{
    const struct plan_exchanged *exchanged = &page->plan->exchanged;
    struct text bands = text_create(page->work->arena);
    int pair[2] = {exchanged->bands[0].ground, exchanged->bands[0].pattern};

    for (int i = 0; i < exchanged->nbands; i++)
        text_addf(&bands, "%s%s",
                  i == 0                       ? ""
                  : i + 1 == exchanged->nbands ? " and "
                                               : ", ",
                  page->plan->piece.bands[exchanged->bands[i].band].name);
    return words_format(page, "%s of %s %s",
                        !exchanged->any_others ? "the two yarns"
                        : exchanged->one_pair  ? words_yarns(page, pair, 2)
                                               : "ground and pattern",
                        exchanged->nbands == 1 ? "band" : "bands", bands.bytes);
}

static const char *ball_words(const struct page *page, int64_t balls)
{
    return balls > 0 ? words_count(page, balls, "ball", "balls") : "no ball";
}

/* The yarns of which another number of balls is bought. */
static void say_balls(const struct page *page)
{
    const struct plan_exchanged *exchanged = &page->plan->exchanged;
    const struct plan_piece *piece = &page->plan->piece;

    for (int i = 0; i < piece->nyarns; i++) {
        int64_t own = piece->yarns[i].buy.balls, other = exchanged->yarns[i].buy.balls;

        if (own != other)
            page_say(page, NAME_AT,
                     words_format(page, "Exchanged, %s takes %s, not %s.", piece->yarns[i].name,
                                  ball_words(page, other),
                                  own > 0 ? words_grouped(page, own) : "none"));
    }
}

/* Which two it is where there are more. */
static void say_others(const struct page *page)
{
    const struct plan_exchanged *exchanged = &page->plan->exchanged;

    if (exchanged->any_others && exchanged->one_pair)
        page_say(page, NAME_AT,
                 "These two have most stitches there; the other yarns keep their places.");
    for (int i = 0; i < exchanged->nbands && !exchanged->one_pair; i++) {
        const struct plan_exchanged_band *band = &exchanged->bands[i];
        int pair[2] = {band->ground, band->pattern};

        if (band->others)
            page_say(page, NAME_AT,
                     words_format(page,
                                  "In band %s it is %s, which have most stitches; its other yarns "
                                  "keep their places.",
                                  page->plan->piece.bands[band->band].name,
                                  words_yarns(page, pair, 2)));
    }
}

void report_exchanged(const struct page *page)
{
    const struct plan_exchanged *exchanged = &page->plan->exchanged;
    const struct plan_piece *piece = &page->plan->piece;
    bool balls = false;

    if (exchanged->nbands == 0)
        return;
    page_heading(page, "THE OTHER WAY ROUND",
                 words_format(page, "%s exchanged", exchanged_words(page)));
    put_exchanged_head(page);
    for (int i = 0; i < piece->nyarns; i++) {
        const struct plan_yarn *own = &piece->yarns[i], *other = &exchanged->yarns[i];
        struct text line = page_line(page);

        if (!own->used && !other->used)
            continue;
        line_at(&line, NAME_AT, words_clip(page, own->name, NAME_WIDE));
        put_amount(page, &line, CHARTED_TO, own);
        put_amount(page, &line, OTHER_TO, other);
        page_put(page, &line);
        balls = balls || own->has_ball;
    }
    page_say(page, NAME_AT,
             words_format(page,
                          "Stitches, floats and catches change places; cast-on, rib, plain parts "
                          "and bind-off keep their yarn.%s",
                          balls && exchanged->same_balls ? " The balls to buy are the same." : ""));
    say_balls(page);
    say_others(page);
}
