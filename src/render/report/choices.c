/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What else could be done with the colours: sew one on afterwards, exchange ground and pattern.
 */
#include <math.h>

#include "base/apportion.h"
#include "base/arena.h"
#include "report.h"

/* --- row by row ---------------------------------------------------------------- */

/* Rows, stitches; stranded and sewn: all yarn, catches, three colours, time. */
static const struct page_column row_columns[] = {LEFT(4),   RIGHT(19), RIGHT(30), RIGHT(40), RIGHT(48),
                                             RIGHT(53), RIGHT(61), RIGHT(66), RIGHT(74), RIGHT(79)};

/* Lines of the table that are rounded together: groups, and last what belongs to no row. */
struct lines {
    const struct plan_duplicate *choice;
    int from, n;
    bool minutes;
};
struct way_column {
    const char *yarn[APPORTION_MAX];
    const char *time[APPORTION_MAX];
};

static const struct plan_duplicate_way *way_of(const struct plan_duplicate *choice, int i, bool sewn)
{
    if (i == choice->ngroups)
        return sewn ? &choice->sewn_apart : &choice->stranded_apart;
    return sewn ? &choice->groups[i].sewn : &choice->groups[i].stranded;
}

static void fill_column(const struct page *page, const struct lines *lines, bool sewn,
                        struct way_column *column)
{
    const double minute_h = 1.0 / 60.0, tenth_h = 0.1;
    double metres[APPORTION_MAX], hours[APPORTION_MAX];
    int64_t steps[APPORTION_MAX];
    const char *sum;

    for (int i = 0; i < lines->n; i++) {
        metres[i] = way_of(lines->choice, lines->from + i, sewn)->all_m;
        hours[i] = way_of(lines->choice, lines->from + i, sewn)->hours;
    }
    words_yarn_column(page, metres, lines->n, column->yarn, &sum);
    apportion(hours, lines->n, lines->minutes ? minute_h : tenth_h, 1.0, steps);
    for (int i = 0; i < lines->n; i++)
        column->time[i] = !(hours[i] > 0.0) ? "."
                          : lines->minutes  ? words_grouped(page, steps[i])
                                            : words_decimal(page, (double)steps[i] * tenth_h, 1);
}

static void put_heads(const struct page *page, const struct lines *lines)
{
    page_gap(page);
    page_row(page, row_columns, "", "", "", "all yarn", "", "catches", "", "3 colours", "",
             lines->minutes ? "minutes" : "hours");
    page_row(page, row_columns, words_round(page), "stitches", "strand", "sewn", "strand", "sewn", "strand", "sewn",
             "strand", "sewn");
}

static void put_line(const struct page *page, const struct lines *lines, int i,
                     const struct way_column way[2])
{
    const struct plan_duplicate *choice = lines->choice;
    const struct plan_duplicate_group *group = &choice->groups[lines->from + i];

    if (lines->from + i == choice->ngroups)
        page_row(page, row_columns, "waits, tails", "", way[0].yarn[i], way[1].yarn[i], "", "", "", "",
                 way[0].time[i], way[1].time[i]);
    else
        page_row(page, row_columns, words_range(page, group->first_row + 1, group->last_row + 1),
                 words_grouped(page, group->stitches), way[0].yarn[i], way[1].yarn[i],
                 words_grouped(page, group->stranded.catches), words_grouped(page, group->sewn.catches),
                 words_grouped(page, group->stranded.rows_three), words_grouped(page, group->sewn.rows_three),
                 way[0].time[i], way[1].time[i]);
}

static void put_rows(const struct page *page, const struct plan_duplicate *choice)
{
    const double hours_from = 9.95;
    struct lines lines = {.choice = choice,
                          .minutes = choice->stranded.hours < hours_from &&
                                     choice->sewn.hours < hours_from};
    int n = choice->ngroups + 1;

    if (choice->ngroups < 2)
        return;
    put_heads(page, &lines);
    for (; lines.from < n; lines.from += lines.n) {
        struct way_column way[2];

        lines.n = n - lines.from < APPORTION_MAX ? n - lines.from : APPORTION_MAX;
        for (int sewn = 0; sewn < 2; sewn++)
            fill_column(page, &lines, sewn, &way[sewn]);
        for (int i = 0; i < lines.n; i++)
            put_line(page, &lines, i, way);
    }
}

/* --- at the head ---------------------------------------------------------------- */

static bool has_figures(const struct plan *plan, int yarn)
{
    for (int i = 0; i < plan->nduplicates; i++)
        if (plan->duplicates[i].yarn == yarn && plan->duplicates[i].notable)
            return true;
    return false;
}

static bool at_head(const struct plan_duplicate *sum, enum duplicate_verdict verdict)
{
    return sum->hinted && sum->saved_rows_three > 0 && sum->verdict == verdict;
}

/* "rose about 5.6 hours, fog about 2 hours" */
static const char *slower_words(const struct page *page, int *count)
{
    const struct plan *plan = page->plan;
    struct text words = text_create(page->work->arena);

    *count = 0;
    for (int i = 0; i < plan->nduplicate_yarns; i++)
        if (at_head(&plan->duplicate_yarns[i], DUPLICATE_STRAND)) {
            text_addf(&words, "%s%s %s", *count ? ", " : "",
                      words_yarn(page, plan->duplicate_yarns[i].yarn),
                      words_hours(page, fabs(plan->duplicate_yarns[i].saved_hours)));
            ++*count;
        }
    return words.length > 0 ? words.bytes : "";
}

const char *report_sewing(const struct page *page)
{
    const struct plan *plan = page->plan;
    struct text words = text_create(page->work->arena);
    int slower;
    const char *times = slower_words(page, &slower);

    for (int i = 0; i < plan->nduplicate_yarns; i++) {
        const struct plan_duplicate *sum = &plan->duplicate_yarns[i];
        const char *yarn = words_yarn(page, sum->yarn), *time = words_hours(page, fabs(sum->saved_hours));
        const char *below = has_figures(plan, sum->yarn) ? " (figures below)" : "";

        if (at_head(sum, DUPLICATE_SEW))
            text_addf(&words, " Sewing %s on afterwards would take %s less: sew it on%s.", yarn, time, below);
        else if (at_head(sum, DUPLICATE_EITHER))
            text_addf(&words, " Sewing %s on afterwards would take about as long: as you like%s.", yarn,
                      below);
        else if (at_head(sum, DUPLICATE_STRAND) && slower == 1)
            text_addf(&words, " Sewing %s on afterwards would take %s longer: strand it%s.", yarn, time,
                      below);
    }
    if (slower > 1)
        text_addf(&words, " Sewing one of them on afterwards would take longer, %s: strand them.", times);
    return words.length > 0 ? words.bytes : "";
}

const char *report_sewing_long(const struct page *page)
{
    const struct plan *plan = page->plan;
    int yarns[GRID_YARNS_MAX], n = 0;

    for (int i = 0; i < plan->nduplicate_yarns; i++) {
        const struct plan_duplicate *sum = &plan->duplicate_yarns[i];

        if (sum->hinted && sum->saved_catches > 0 && sum->verdict != DUPLICATE_STRAND)
            yarns[n++] = sum->yarn;
    }
    return n > 0 ? words_yarns(page, yarns, n) : "";
}

/* --- strand or sew on ---------------------------------------------------------------- */

enum { CHOICE_AT = 4 };
static const struct page_column choice_columns[] = {LEFT(CHOICE_AT), RIGHT(48), RIGHT(66)};

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

    page_sayf(page, 2, "%s %s, %s in %s for %s%s.", words_yarn(page, choice->yarn), where,
              words_count(page, choice->stitches, "stitch", "stitches"),
              words_count(page, choice->spots, "spot", "spots"), words_pieces(page),
              choice->sewn_now ? "; now to be sewn on" : "; now stranded");
}

static void put_figures(const struct page *page, const struct plan_duplicate *choice)
{
    const struct plan_duplicate_way *stranded = &choice->stranded, *sewn = &choice->sewn;

    page_row(page, choice_columns, "", "stranded", "sewn on");
    page_row(page, choice_columns,
             words_format(page, "yarn of %s", words_clip(page, words_yarn(page, choice->yarn), 16)),
             words_yarn_length(page, stranded->own_m), words_yarn_length(page, sewn->own_m));
    page_row(page, choice_columns, words_format(page, "all yarn of those %ss", words_round(page)),
             words_yarn_length(page, stranded->all_m), words_yarn_length(page, sewn->all_m));
    page_row(page, choice_columns, "of that waits and tails",
             words_yarn_length(page, choice->stranded_apart.all_m),
             words_yarn_length(page, choice->sewn_apart.all_m));
    page_row(page, choice_columns, "catches, the fewest", words_grouped(page, stranded->catches),
             words_grouped(page, sewn->catches));
    page_row(page, choice_columns, words_format(page, "%ss in three colours", words_round(page)),
             words_grouped(page, stranded->rows_three), words_grouped(page, sewn->rows_three));
    page_row(page, choice_columns, "time", words_hours(page, stranded->hours), words_hours(page, sewn->hours));
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
        page_sayf(page, CHOICE_AT, "Sew it on: that %s and %s, and %s.", saved, time, yarn);
    else if (choice->verdict == DUPLICATE_STRAND && !saves_any(choice))
        page_sayf(page, CHOICE_AT, "Strand it: sewing it on %s and costs %s more.", yarn, time);
    else if (choice->verdict == DUPLICATE_STRAND)
        page_sayf(page, CHOICE_AT,
                  "Strand it, unless what it saves is worth the time: sewing it on %s, but %s and "
                  "costs %s more.",
                  saved, yarn, time);
    else
        page_sayf(page, CHOICE_AT, "As you like: %s is quicker by %s; sewing it on %s, and %s.",
                  choice->saved_hours > 0.0 ? "sewing it on" : "stranding it", time, saved, yarn);
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
    put_rows(page, choice);
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

enum { NAME_AT = 2, NAME_WIDE = 11 };

/* Yarn; as charted and exchanged: length, balls, catches. */
static const struct page_column columns[] = {LEFT(NAME_AT), RIGHT(30), RIGHT(37), RIGHT(45),
                                             RIGHT(64),     RIGHT(71), RIGHT(79)};

static const char *balls_of(const struct page *page, const struct plan_yarn *yarn)
{
    return yarn->has_ball ? words_grouped(page, yarn->buy.balls) : ".";
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
            page_sayf(page, NAME_AT, "Exchanged, %s takes %s, not %s.", piece->yarns[i].name,
                      ball_words(page, other), own > 0 ? words_grouped(page, own) : "none");
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
            page_sayf(page, NAME_AT,
                      "In band %s it is %s, which have most stitches; its other yarns keep their "
                      "places.",
                      page->plan->piece.bands[band->band].name, words_yarns(page, pair, 2));
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
    page_row(page, columns, "", "as charted", "", "", "exchanged");
    page_row(page, columns, "", "yarn", "balls", "catches", "yarn", "balls", "catches");
    for (int i = 0; i < piece->nyarns; i++) {
        const struct plan_yarn *own = &piece->yarns[i], *other = &exchanged->yarns[i];

        if (!own->used && !other->used)
            continue;
        page_row(page, columns, words_clip(page, own->name, NAME_WIDE), words_yarn_length(page, own->length_m),
                 balls_of(page, own), words_grouped(page, own->catches),
                 words_yarn_length(page, other->length_m), balls_of(page, other),
                 words_grouped(page, other->catches));
        balls = balls || own->has_ball;
    }
    page_sayf(page, NAME_AT,
              "Stitches, floats and catches change places; cast-on, rib, plain parts and bind-off "
              "keep their yarn.%s",
              balls && exchanged->same_balls ? " The balls to buy are the same." : "");
    say_balls(page);
    say_others(page);
}
