/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How the piece will wear: centre front and back, what each band goes over, where plain meets stranded.
 */
#include <math.h>
#include <stdlib.h>

#include "report.h"

/* --- motif or gap on the centre, where to start the round, stitches to each needle ----------- */

/* Start, jog, strand. */
static const struct page_column start_columns[] = {LEFT(4), RIGHT(32), LEFT(36)};

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
    page_row(page, start_columns,
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
    page_row(page, start_columns, "begin with", "jog in", "longest strand over the start");
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
    page_entryf(page, "needles", "%s. Keep a float that crosses easy.", text.bytes);
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

/* --- will a band go over heel, head or hand -------------------------------------------------- */

/* Kinds of rounds shown, tightest first. */
enum { KINDS_MAX = 6, STOPPING_MAX = 14, NAME_AT = 4, NAMES_WIDE = 29 };

/* Rounds, what holds them, what they pull to. */
static const struct page_column kind_columns[] = {LEFT(NAME_AT), LEFT(34), RIGHT(80)};

static const char *share_words(const struct page *page, const struct plan_stretch_row *row)
{
    if (row->yarn < 0)
        return "one yarn";
    return words_format(page, "%s %lld of %lld", words_clip(page, words_yarn(page, row->yarn), 16),
                        (long long)row->own, (long long)row->all);
}

static void put_kinds(const struct page *page, const struct plan_band *band)
{
    const struct plan_stretch_kind *kinds = band->stretch->kinds;
    int n = band->stretch->nkinds, shown = 0;

    while (shown < n && (shown < KINDS_MAX || (!kinds[shown].row->passes && shown < STOPPING_MAX)))
        shown++;
    page_row(page, kind_columns, words_format(page, "chart %s", words_round(page)), "what holds it", "pulls to about");
    for (int i = 0; i < shown; i++) {
        const struct plan_stretch_row *row = kinds[i].row;
        const char *stops = row->passes ? "" : row->just_short ? "just short:  " : "stops it:  ";

        page_row(page, kind_columns,
                 words_clip(page, words_numbers(page, kinds[i].numbers, kinds[i].count), NAMES_WIDE),
                 share_words(page, row),
                 words_format(page, "%s%s", stops, words_length(page, row->pulls_to_in)));
    }
    if (n > shown)
        page_sayf(page, NAME_AT, "All others pull to %s or more%s.",
                  words_length(page, kinds[shown].row->pulls_to_in),
                  kinds[shown].row->passes ? "" : ", and some stop it too");
}

/* --- what would let it through ------------------------------------------------------ */

static void put_more_stitches(const struct page *page, const struct plan_band *band)
{
    const struct plan_stretch *stretch = band->stretch;

    if (stretch->need_repeats == 0)
        return;
    page_bulletf(page, NAME_AT,
                 "More stitches: %s would pass; in whole repeats %d, which is %lld stitches, %s "
                 "relaxed (repeats = %d).",
                 words_decimal(page, stretch->need_sts, 1), stretch->need_repeats,
                 (long long)stretch->need_stitches, words_length(page, stretch->need_in),
                 stretch->need_repeats);
}

/* "chart rounds 2, 4 and 5"; of many the tightest and how many more. */
static const char *stopping_words(const struct page *page, const struct plan_band *band)
{
    enum { NAMED_MAX = 8 };
    const struct plan_stretch *stretch = band->stretch;

    if (stretch->stopping > NAMED_MAX)
        return words_format(page, "chart %s %d and the %s more that stop it", words_round(page),
                            stretch->tightest + 1, words_rounds(page, stretch->stopping - 1));
    return words_format(page, "chart %s%s %s", words_round(page), stretch->stopping > 1 ? "s" : "",
                        words_numbers(page, stretch->stopping_rows, stretch->stopping));
}

static void put_looser(const struct page *page, const struct plan_band *band)
{
    const struct plan_stretch *stretch = band->stretch;

    if (!stretch->loosen) {
        page_bulletf(page, NAME_AT,
                     "Looser floats would not do: plain stitches would not reach so far either.");
        return;
    }
    page_bulletf(page, NAME_AT, "Looser floats in %s: %s times the width they pass%s.",
                 stopping_words(page, band), words_decimal(page, stretch->loosen_slack_ratio, 2),
                 stretch->loosen_loops
                     ? "; so loose they are loops that catch fingers and toes: not advised"
                 : stretch->stopping > 1 ? " in the tightest"
                                         : "");
}

static void put_sewn(const struct page *page, const struct plan_band *band)
{
    const struct plan_stretch *stretch = band->stretch;

    if (stretch->sew_rows == 0)
        return;
    page_bulletf(page, NAME_AT,
                 "Duplicate stitch: the scarce stitches of %s sewn on afterwards%s, %s in a piece. "
                 "Give them a mark of their own in the chart, and its yarn the line duplicate over "
                 "= %s.",
                 stopping_words(page, band),
                 stretch->sew_yarn >= 0
                     ? words_format(page, " in %s", words_yarn(page, stretch->sew_yarn))
                     : "",
                 words_count(page, stretch->sew_sts, "stitch", "stitches"),
                 stretch->sew_over >= 0 ? words_yarn(page, stretch->sew_over)
                                        : "the yarn under them");
}

static void put_needle(const struct page *page, const struct plan_band *band)
{
    const struct plan_stretch *stretch = band->stretch;

    page_bulletf(page, NAME_AT, "A larger needle for the band: it passes at %s, %s%s.",
                 words_gauge(page, stretch->needle_per_in),
                 words_signed_percent(page, stretch->needle_part),
                 stretch->needle_near ? "; swatch again"
                                      : ", which is more than another needle gives");
}

static const char *model_words(const struct page *page, const struct plan_stretch *stretch)
{
    const char *stitches = words_decimal(page, stretch->stitch_ratio, 2);
    const char *floats = words_decimal(page, stretch->float_ratio, 2);

    return words_format(page,
                        "A model: stitches pull to %s times their width (%s), floats to %s times "
                        "what they pass (%s). Cast-on, rib and bind-off are not in it: keep them "
                        "elastic.%s",
                        stitches, stretch->stitch_pulled ? "your plain swatch" : "by the table",
                        floats, stretch->float_pulled ? "your stranded swatch" : "from the slack",
                        stretch->float_pulled
                            ? ""
                            : page->plan->cm_first
                                ? " Pull a stranded swatch, write pulls = 10 cm to 13 cm in [swatch], "
                                  "and that counts instead."
                                : " Pull a stranded swatch, write pulls = 4 in to 5.3 in in [swatch], and "
                                  "that counts instead.");
}

void report_stretch(const struct page *page, const struct plan_band *band)
{
    const struct plan_stretch *stretch = band->stretch;
    enum words_step step;

    if (!stretch)
        return;
    step = words_step_apart(page, stretch->pulls_to_in, stretch->must_in);
    page_entry(page, "must pass", words_length_step(page, stretch->must_in, step));
    page_entryf(page, "pulls to", "about %s in chart %s %d, the tightest: %s",
                words_length_step(page, stretch->pulls_to_in, step), words_round(page), stretch->tightest + 1,
                stretch->passes       ? words_format(page, "it passes with %s to spare%s",
                                                     words_length_step(page, stretch->spare_in, step),
                                               stretch->close ? ", which is next to nothing" : "")
                : stretch->just_short ? "it will not pass, just short"
                                      : words_format(page, "it will not pass, by %s",
                                                     words_length_step(page, stretch->short_in, step)));
    put_kinds(page, band);
    if (!stretch->passes) {
        page_say(page, 2, "What would let it through:");
        put_more_stitches(page, band);
        put_looser(page, band);
        put_sewn(page, band);
        put_needle(page, band);
        page_bulletf(page, NAME_AT,
                     "Another place: work the band where less must go through, higher on the leg "
                     "or arm; or with more ease.");
    }
    page_say(page, 2, model_words(page, stretch));
}

const char *report_passes(const struct page *page, const struct plan_piece *piece)
{
    const struct plan_band *tightest = piece->tightest_band;

    if (!tightest)
        return "";
    if (tightest->stretch->passes || tightest->stretch->need_repeats == 0)
        return words_format(page, tightest->stretch->passes ? "; passes %s" : "; does not pass %s",
                            words_length(page, tightest->stretch->must_in));
    return words_format(page, "; does not pass %s: it would on %s, %lld stitches",
                        words_length(page, tightest->stretch->must_in),
                        words_count(page, tightest->stretch->need_repeats, "repeat", "repeats"),
                        (long long)tightest->stretch->need_stitches);
}

/* --- where plain meets stranded -------------------------------------------------------------- */

static const char *narrower(double step_in)
{
    return step_in > 0.0 ? "narrower" : "wider";
}

static void put_border_needle(const struct page *page, const struct plan_border *border)
{
    page_bulletf(page, NAME_AT,
                 "A %s needle for the band: at %s there is no step (%s); swatch again.",
                 border->needle_part < 0.0 ? "larger" : "smaller",
                 words_gauge(page, border->needle_per_in),
                 words_signed_percent(page, border->needle_part));
}

/* " (a count that waves and buds share)" */
static const char *shared_words(const struct page *page, const struct plan_border *border)
{
    return border->fit_sharers
               ? words_format(page, " (a count that suits %s too)", border->fit_sharers)
               : "";
}

static void put_count(const struct page *page, const struct plan_border *border)
{
    const char *even = words_decimal(page, border->even_sts, 1);

    if (border->fit_sts == 0) {
        page_bulletf(page, NAME_AT,
                     "Another count: %s stitches in the band would be as wide, but no whole "
                     "repeats%s come nearer than the %d it has.",
                     even, shared_words(page, border), border->band_sts);
        return;
    }
    if (border->fit_stopped) {
        const struct plan_stretch *stretch = page->plan->piece.bands[border->band].stretch;
        const char *now = stretch && !stretch->passes
                              ? words_format(page, ", nor does it on the %d it has", border->band_sts)
                              : "";

        page_bulletf(page, NAME_AT,
                     "Another count: %s stitches in the band would be as wide; %s%s are %d, and on "
                     "so few it does not pass what it must%s.",
                     even, words_count(page, border->fit_repeats, "repeat", "repeats"),
                     shared_words(page, border), border->fit_sts, now);
        return;
    }
    page_bulletf(page, NAME_AT,
                 "Another count: %s stitches in the band would be as wide, %s%s are %d: then the "
                 "band is %s %s (%s). %s%s%s",
                 even, words_count(page, border->fit_repeats, "repeat", "repeats"),
                 shared_words(page, border), border->fit_sts,
                 words_length(page, fabs(border->fit_step_in)), narrower(border->fit_step_in),
                 words_percent(page, fabs(border->fit_step_part)),
                 border->fit_line ? "From the one to the other: " : "No shaping is needed",
                 border->fit_line ? border->fit_line : "", ".");
}

static void put_plain(const struct page *page, const struct plan_border *border)
{
    if (border->plain_fit_sts == 0)
        return;
    page_bulletf(page, NAME_AT,
                 "Another count of the plain part: on %d stitches it is as wide as the band "
                 "(stitches on needle = %d).%s%s%s",
                 border->plain_fit_sts, border->plain_fit_on_needle,
                 border->plain_fit_line ? " From the one to the other: " : "",
                 border->plain_fit_line ? border->plain_fit_line : "",
                 border->plain_fit_line ? "." : "");
}

static void put_border(const struct page *page, const struct plan_border *border)
{
    const struct plan_band *band = &page->plan->piece.bands[border->band];

    page_say(page, 2,
             border->plain_below
                 ? words_format(page, "From part %s into band %s:", border->plain_name, band->name)
                 : words_format(page, "From band %s into part %s:", band->name, border->plain_name));
    page_sayf(page, NAME_AT,
              "%d stitches are %s plain and would be %s in the band: stranding %s %s.",
              border->plain_sts, words_length(page, border->plain_in),
              words_length(page, border->plain_in - border->drawn_in),
              border->drawn_in >= 0.0 ? "draws in by" : "here widens by",
              words_percent(page, fabs(border->drawn_part)));
    page_sayf(page, NAME_AT, "On its %d stitches the band is %s: a step of %s, %s %s%s",
              border->band_sts, words_length(page, border->band_in),
              words_length(page, fabs(border->step_in)),
              words_percent(page, fabs(border->step_part)), narrower(border->step_in),
              border->slight   ? ". Nothing need be done about so little."
              : border->shaped ? ". If that is the shape you want, leave it; else:"
                               : ". Change something:");
    if (border->slight)
        return;
    if (border->needle_near)
        put_border_needle(page, border);
    put_plain(page, border);
    put_count(page, border);
}

void report_borders(const struct page *page)
{
    const struct plan_piece *piece = &page->plan->piece;
    bool headed = false;

    for (int i = 0; i < piece->nborders; i++) {
        if (piece->borders[i].asked) /* a taper she wants */
            continue;
        if (!headed)
            page_heading(page, "WHERE PLAIN MEETS STRANDED", "the step between the two widths");
        headed = true;
        put_border(page, &piece->borders[i]);
    }
}
