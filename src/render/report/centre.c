/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Motif or gap on the centre front and back, where to start the round, stitches to each needle.
 */
#include <stdlib.h>

#include "report.h"

/* Start, jog, strand. */
static const struct page_column columns[] = {LEFT(4), RIGHT(32), LEFT(36)};

/* "a gap falls on the centre front and on the centre back" */
static const char *falls_words(const struct page *page, const struct plan_start *start)
{
    static const char *const words[] = {"nothing", "a motif", "a gap", "a mirror line"};

    if (start->front == start->back && start->front == LINE_NEITHER)
        return "neither motif nor gap falls on the centre front or back";
    if (start->front == start->back)
        return words_format(page, "%s falls on the centre front and on the centre back",
                            words[start->front]);
    return words_format(page, "%s falls on the centre front, %s on the centre back", words[start->front],
                        words[start->back]);
}

static const char *jog_words(const struct page *page, const struct plan_start *start)
{
    if (start->at.jog_rows == 0)
        return "no jog";
    if (start->at.jog_rows_all != start->at.jog_rows)
        return words_format(page, "a jog in %s of the chart, %s in all",
                            words_rounds(page, start->at.jog_rows),
                            words_grouped(page, start->at.jog_rows_all));
    return words_format(page, "a jog in %s", words_rounds(page, start->at.jog_rows));
}

static void entry_centre(const struct page *page, const struct plan_band *band)
{
    const struct plan_centre *centre = band->centre;

    page_entry(page, "centre",
               centre->motif < 0
                   ? "the repeat is not its own mirror image: nothing to centre"
                   : words_format(page, "with the start at the back, as %s, %s",
                                  band->begin > 0 ? "planned" : "the chart is drawn",
                                  falls_words(page, &centre->now)));
}

static int number_of(const struct plan_start *start)
{
    return start->stitch > 0 ? start->stitch : start->at.start + 1;
}

/* What to write; of a chart not worked as drawn, how to read it. */
static void add_how(const struct plan_band *band, bool front, struct text *text)
{
    const struct plan_start *best = &band->centre->best[0];
    const struct plan_start *wanted = best->at.start > 0 ? best : &band->centre->front;

    if (best->at.start == 0 && (!front || band->centre->front.at.start == 0))
        return;
    if (wanted->stitch > 0)
        text_addf(text, " To begin %s, write under [band %s]%s: begin" WORDS_TIE "with" WORDS_TIE
                        "=" WORDS_TIE "stitch" WORDS_TIE "%d.",
                  best->at.start > 0 && front ? "with one of them" : "there", band->name,
                  best->at.start > 0 && front ? ", like this" : "", wanted->stitch);
    else
        text_add(text, " To begin with another stitch than the first, read every round of the chart "
                       "from that stitch on and end it with the stitches before; the rounds in words "
                       "begin with the first.");
}

/* One recommendation: the start best to knit, why, what is then in front, and what another would cost. */
static void entry_begin(const struct page *page, const struct plan_band *band)
{
    const struct plan_centre *centre = band->centre;
    const struct plan_start *best = &centre->best[0];
    struct text text = text_create(page->work->arena);
    bool front = centre->front_start >= 0 && best->front != LINE_MOTIF;

    text_addf(&text, "stitch %d%s is %s (%s)", number_of(best),
              best->at.start == 0 && band->begin > 0 ? ", with which it begins," : "",
              centre->strand_decides ? "best to knit: no strand over the start is too long"
                                     : "least seen",
              jog_words(page, best));
    if (centre->motif >= 0)
        text_addf(&text, "; then %s", falls_words(page, best));
    text_add(&text, ".");
    if (front)
        text_addf(&text, " If you would rather have a motif in front, stitch %d does that (%s).",
                  number_of(&centre->front), jog_words(page, &centre->front));
    add_how(band, front, &text);
    page_entry(page, "best start", text.bytes);
}

static void put_start(const struct page *page, const struct plan_band *band,
                      const struct plan_start *start)
{
    const struct centre_start *at = &start->at;
    const char *strand = "none";

    if (at->strand_yarn >= 0)
        strand = words_format(page, "%s, %s, from %s %d%s", words_count(page, at->strand_sts, "stitch", "stitches"),
                              words_clip(page, words_yarn(page, at->strand_yarn), 8), words_round(page),
                              at->strand_row + 1, start->over_limit ? ": too long" : "");
    page_row(page, columns,
             words_format(page, "stitch %d%s", number_of(start),
                          at->start > 0 ? "" : band->begin > 0 ? ", planned" : ", as drawn"),
             at->jog_rows == 0 ? "none" : words_rounds(page, at->jog_rows_all), strand);
}

/* As planned, and the best, the best first. */
static void put_starts(const struct page *page, const struct plan_band *band)
{
    const struct plan_centre *centre = band->centre;
    bool planned = false;

    page_entry(page, "start",
               band->begin > 0
                   ? "where it is least seen: at the back, inside the leg, under the arm. The best, "
                     "stitches of the chart as drawn, then as planned:"
                   : "where it is least seen: at the back, inside the leg, under the arm. The best, then "
                     "as the chart is drawn:");
    page_row(page, columns, "begin with", "jog in", "longest strand over the start");
    for (int i = 0; i < centre->nbest; i++) {
        put_start(page, band, &centre->best[i]);
        planned = planned || centre->best[i].at.start == 0;
    }
    if (!planned)
        put_start(page, band, &centre->now);
}

/* "36, 36 (floats cross twice, the longest 3 stitches)" */
static const char *division_words(const struct page *page, const int *sts, int needles,
                                  const struct centre_join *crosses)
{
    struct text text = text_create(page->work->arena);

    for (int k = 0; k < needles; k++)
        text_addf(&text, "%s%d", k == 0 ? "" : ", ", sts[k]);
    if (crosses->rows == 0)
        text_add(&text, " (no float crosses)");
    else
        text_addf(&text, " (floats cross %s, the longest %s)", words_times(page, crosses->rows),
                  words_count(page, crosses->longest_sts, "stitch", "stitches"));
    return text.bytes;
}

static void entry_needles(const struct page *page, const struct plan_band *band)
{
    struct text text = text_create(page->work->arena);

    for (int i = 0; i < PLAN_NEEDLE_WAYS; i++) {
        const struct plan_needles *way = &band->centre->needles[i];

        text_addf(&text, "%s%s %s", i == 0 ? "" : "; ",
                  way->needles == 2 ? "two halves" : way->needles == 3 ? "three needles" : "four needles",
                  division_words(page, way->sts, way->needles, &way->crosses));
        if (way->uneven)
            text_addf(&text, ", or evenly %s",
                      division_words(page, way->even_sts, way->needles, &way->even_crosses));
    }
    page_entry(page, "needles",
               words_format(page, "%s. Keep a float that crosses easy.", text.bytes));
}

/* At a steek: do the two fronts mirror each other, and how they would. */
static void entry_fronts(const struct page *page, const struct plan_band *band)
{
    const struct plan_fronts *fronts = band->fronts;
    struct text text = text_create(page->work->arena);

    if (!fronts->known) {
        page_entry(page, "edges",
                   "the chart has no mirror line, so at the steek the two do not mirror each other. Where they "
                   "are to, reverse the chart for the other front (common practice).");
        return;
    }
    if (fronts->more_sts == 0) {
        page_entry(page, "edges", "at the steek the two mirror each other");
        return;
    }
    text_addf(&text,
              "at the steek you begin with stitch 1 of the chart and end with stitch %d: the two edges do "
              "not mirror each other.",
              band->repeat_sts);
    if (fronts->start > 0)
        text_addf(&text, " Whole repeats that begin with stitch %d of the chart do.", fronts->start + 1);
    else
        text_addf(&text, " With %s %s they do: this plan counts whole repeats alone, so %s its counts.",
                  words_count(page, abs(fronts->more_sts), "stitch", "stitches"),
                  fronts->more_sts > 0 ? "more, the first of the chart again after the last repeat,"
                                       : "fewer, the last of the chart left out of the last repeat,",
                  fronts->more_sts > 0 ? "add that to" : "take that from");
    page_entry(page, "edges", text.bytes);
}

void report_centre(const struct page *page, const struct plan_band *band)
{
    if (band->fronts)
        entry_fronts(page, band);
    if (!band->centre)
        return;
    entry_centre(page, band);
    put_starts(page, band);
    entry_begin(page, band);
    entry_needles(page, band);
}
