/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "directions.h"

#include "render/render.h"
#include "words/say.h"

#include <string.h>

enum { LINE_AT = 2, HANG_AT = 6 };

/* --- a band ------------------------------------------------------------------------- */

struct pending { /* words waiting to be put, in case the next row's are the same */
    int from, to;
    struct text *words;
};

static void put_pending(const struct page *page, const struct pending *pending)
{
    const char *numbers = words_format(page, "%s%s %s", say_rounds(page->plan->round)->One,
                                       pending->from == pending->to ? "" : "s",
                                       words_range(page, pending->from + 1, pending->to + 1));
    int column = LINE_AT + text_columns(numbers);

    text_repeat(page->out, ' ', LINE_AT);
    text_add(page->out, numbers);
    if (pending->words->bytes[0] == ' ') {
        text_add(page->out, " ");
        column++;
    }
    page_wrap(page, pending->words->bytes, column, HANG_AT);
    text_add(page->out, "\n");
}

static void add_rows(const struct page *page, const struct plan_band *band, int time)
{
    struct text texts[2] = {text_create(page->work->arena), text_create(page->work->arena)};
    struct pending pending = {0, -1, &texts[1]};
    int next = 0;

    for (int r = 0; r < band->rows; r++) {
        struct plan_row row;

        plan_row_read(page->work, page->plan, band, r, time, &row);
        directions_word_row(page, &row, &texts[next]);
        if (pending.to >= 0 && strcmp(texts[next].bytes, pending.words->bytes) == 0) {
            pending.to = r;
            continue;
        }
        if (pending.to >= 0)
            put_pending(page, &pending);
        pending = (struct pending){r, r, &texts[next]};
        next = !next;
    }
    if (pending.to >= 0)
        put_pending(page, &pending);
}

static const char *every_other(const struct page *page, int first, int upwards)
{
    struct text text = text_create(page->work->arena);

    for (int time = first; time <= upwards; time += 2) {
        text_add(&text, say_link((time - first) / 2, (upwards - first) / 2 + 1));
        words_add_ordinal(&text, time);
    }
    return text.bytes;
}

/* Flat and an odd number of rows: the second time begins on the other side of the fabric. */
static void add_both_times(const struct page *page, const struct plan_band *band)
{
    for (int time = 0; time < 2; time++) {
        page_sayf(page, LINE_AT, "The %s time up the chart:", every_other(page, time + 1, band->upwards));
        add_rows(page, band, time);
    }
}

static void head_band(const struct page *page, const struct plan_band *band)
{
    const char *name = say_rounds(page->plan->round)->many;

    page_gap(page);
    text_add(page->out, page->style->colour ? "\033[1m" : "");
    page_sayf(page, 0, "Band %s, %s: %s" WORDS_TIE "%s of the piece", band->name, words_repeats_of(page, band), name,
              words_range(page, band->first_round, band->first_round + (int64_t)band->rows * band->upwards - 1));
    text_add(page->out, page->style->colour ? "\033[0m" : "");
    if (band->begin > 0)
        page_sayf(page, LINE_AT, "The chart is begun with its stitch %d.", band->begin + 1);
    if (band->upwards > 1)
        page_sayf(page, LINE_AT, "Work %s %s %s, one above the other.", name,
                  words_range(page, 1, band->rows), words_times(page, band->upwards));
}

static void add_band(const struct page *page, const struct plan_band *band)
{
    head_band(page, band);
    if (!page->plan->round && band->upwards > 1 && band->rows % 2 == 1)
        add_both_times(page, band);
    else
        add_rows(page, band, 0);
    directions_add_sewn(page, band, 0);
}

/* --- how to read them --------------------------------------------------------------- */

/* In a band of two yarns the one with fewer stitches is taken for the pattern yarn. */
static int pattern_yarn(const struct plan_band *band)
{
    const struct plan_colour *colours = band->colours;

    if (band->ncolours != 2 || colours[0].tally.stitches == colours[1].tally.stitches)
        return -1;
    return colours[colours[0].tally.stitches < colours[1].tally.stitches ? 0 : 1].yarn;
}

/* The same in every band of two or more yarns, or -1. */
static int pattern_yarn_of_all(const struct plan_piece *piece)
{
    int yarn = -1;

    for (int i = 0; i < piece->nbands; i++) {
        int here = pattern_yarn(&piece->bands[i]);

        if (here < 0 || (yarn >= 0 && here != yarn))
            return -1;
        yarn = here;
    }
    return yarn;
}

static bool has_stranded_rows(const struct plan_piece *piece)
{
    for (int i = 0; i < piece->nbands; i++)
        if (piece->bands[i].ncolours > 1)
            return true;
    return false;
}

static void say_underneath(const struct page *page)
{
    int yarn = pattern_yarn_of_all(&page->plan->piece);

    if (!has_stranded_rows(&page->plan->piece))
        return;
    page_sayf(page, LINE_AT,
              "Let the pattern yarn%s%s%s lie underneath the other from start to "
              "finish: the yarn below stands out a little more (common practice).",
              yarn >= 0 ? " (" : "", yarn >= 0 ? words_yarn(page, yarn) : "",
              yarn >= 0 ? ")" : "");
}

static void say_edges(const struct page *page)
{
    const struct plan_cast_on *cast_on = &page->plan->piece.cast_on;

    if (cast_on->selvedge_sts > 0)
        page_sayf(page, LINE_AT,
                  "Besides, work %s at each end of every %s%s; the counts leave them out.",
                  words_count(page, cast_on->selvedge_sts / 2, "edge stitch", "edge stitches"), words_round(page),
                  page->plan->edges == EDGE_TURN ? ", in the yarn in hand" : " in all its yarns");
    if (cast_on->steek_sts > 0)
        page_sayf(page, LINE_AT,
                  "Besides, work the %d steek stitches at the end of every %s, in its "
                  "yarns by turns; the counts leave them out.",
                  cast_on->steek_sts, words_round(page));
}

/* A strand that is caught somewhere, for the example of how it is said. */
static const char *strand_caught(const struct plan_piece *piece)
{
    for (int i = 0; i < piece->nbands; i++) {
        const struct plan_band *band = &piece->bands[i];

        if (band->catches->count > 0)
            return piece->yarns[band->catches->mark[0].strand].name;
        if (band->outer && band->outer->count > 0)
            return piece->yarns[band->outer->mark[0].strand].name;
    }
    return "one";
}

/* Where a repeat ends in the yarn it begins with, somewhere. */
static bool has_joins(const struct plan_piece *piece)
{
    for (int i = 0; i < piece->nbands; i++) {
        const struct plan_band *band = &piece->bands[i];
        size_t ncols = (size_t)band->knitted.ncols;

        for (int r = 0; r < band->rows && band->repeats > 1; r++) {
            const uint8_t *cell = band->knitted.cell + (size_t)r * ncols;
            size_t alike = 0;

            while (alike < ncols && cell[alike] == cell[0])
                alike++;
            if (alike < ncols && cell[0] == cell[ncols - 1])
                return true;
        }
    }
    return false;
}

static void say_how(const struct page *page)
{
    bool round = page->plan->round;

    page_sayf(page, LINE_AT,
              "Chart %s are counted from the bottom; the number in brackets is all the stitches of the %s.%s",
              say_rounds(round)->many, words_round(page),
              round ? " Knit every round."
                    : " The words are in the order you work: right-side rows are read "
                      "from right to left, wrong-side rows from left to right.");
    say_underneath(page);
    if (page->plan->piece.catches > 0)
        page_sayf(page, LINE_AT,
                  "\"catching %s behind the 5th\" means: hold that strand in behind the "
                  "5th of those stitches, firmly but not tightly. A yarn that is new in a "
                  "%s and caught before its first stitch is joined where the %s starts.",
                  strand_caught(&page->plan->piece), words_round(page),
                  words_round(page));
    if (has_joins(&page->plan->piece))
        page_say(page, LINE_AT,
                 "\"At each join\": where a repeat ends and the next begins in one yarn, as many "
                 "stitches of it come together.");
    say_edges(page);
}

void directions_add(const struct page *page)
{
    const struct plan_piece *piece = &page->plan->piece;

    say_how(page);
    for (int i = 0; i < piece->nbands; i++)
        add_band(page, &piece->bands[i]);
}

void render_directions(struct work *work, const struct plan *plan,
                       const struct words_style *style, struct text *out)
{
    struct page page = {work, plan, style, out};
    const char *title = *plan->title ? plan->title : plan->project_name;

    text_add(out, style->colour ? "\033[1m" : "");
    text_wrap(out, words_format(&page, "%s: the %s in words", title, say_rounds(plan->round)->many),
              0, 2, style->width);
    text_add(out, style->colour ? "\033[0m\n\n" : "\n\n");
    directions_add(&page);
}
