/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Will a band go over heel, head or hand: how far it pulls, which rounds stop it, what would let it
 * through.
 */
#include "report.h"

/* Kinds of rounds shown, tightest first. */
enum { KINDS_MAX = 6, STOPPING_MAX = 14, NAME_AT = 4, NAMES_WIDE = 29 };

/* Rounds, what holds them, what they pull to. */
static const struct page_column columns[] = {LEFT(NAME_AT), LEFT(34), RIGHT(80)};

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
    page_row(page, columns, words_format(page, "chart %s", words_round(page)), "what holds it", "pulls to about");
    for (int i = 0; i < shown; i++) {
        const struct plan_stretch_row *row = kinds[i].row;
        const char *stops = row->passes ? "" : row->just_short ? "just short:  " : "stops it:  ";

        page_row(page, columns,
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

static void put_remedy(const struct page *page, const char *words)
{
    page_item(page, NAME_AT, page->style->utf8 ? "\u2022" : "-", words);
}

static void put_more_stitches(const struct page *page, const struct plan_band *band)
{
    const struct plan_stretch *stretch = band->stretch;

    if (stretch->need_repeats == 0)
        return;
    put_remedy(page, words_format(page,
                                  "More stitches: %s would pass; in whole repeats %d, which is %lld "
                                  "stitches, %s relaxed (repeats = %d).",
                                  words_decimal(page, stretch->need_sts, 1), stretch->need_repeats,
                                  (long long)stretch->need_stitches,
                                  words_length(page, stretch->need_in), stretch->need_repeats));
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
        put_remedy(page, "Looser floats would not do: plain stitches would not reach so far either.");
        return;
    }
    put_remedy(page,
               words_format(page,
                            "Looser floats in %s: %s times the width they pass%s.",
                            stopping_words(page, band),
                            words_decimal(page, stretch->loosen_slack_ratio, 2),
                            stretch->loosen_loops
                                ? "; so loose they are loops that catch fingers and toes: not advised"
                                : stretch->stopping > 1 ? " in the tightest"
                                                        : ""));
}

static void put_sewn(const struct page *page, const struct plan_band *band)
{
    const struct plan_stretch *stretch = band->stretch;

    if (stretch->sew_rows == 0)
        return;
    put_remedy(page,
               words_format(page,
                            "Duplicate stitch: the scarce stitches of %s sewn on afterwards%s, %s in a "
                            "piece. Give them a mark of their own in the chart, and its yarn the line "
                            "duplicate over = %s.",
                            stopping_words(page, band),
                            stretch->sew_yarn >= 0
                                ? words_format(page, " in %s", words_yarn(page, stretch->sew_yarn))
                                : "",
                            words_count(page, stretch->sew_sts, "stitch", "stitches"),
                            stretch->sew_over >= 0 ? words_yarn(page, stretch->sew_over)
                                                   : "the yarn under them"));
}

static void put_needle(const struct page *page, const struct plan_band *band)
{
    const struct plan_stretch *stretch = band->stretch;

    put_remedy(page,
               words_format(page, "A larger needle for the band: it passes at %s, %s%s.",
                            words_gauge(page, stretch->needle_per_in),
                            words_signed_percent(page, stretch->needle_part),
                            stretch->needle_near ? "; swatch again"
                                                 : ", which is more than another needle gives"));
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
    page_entry(page, "pulls to",
               words_format(page, "about %s in chart %s %d, the tightest: %s",
                            words_length_step(page, stretch->pulls_to_in, step), words_round(page),
                            stretch->tightest + 1,
                            stretch->passes
                                ? words_format(page, "it passes with %s to spare%s",
                                               words_length_step(page, stretch->spare_in, step),
                                               stretch->close ? ", which is next to nothing" : "")
                                : stretch->just_short
                                    ? "it will not pass, just short"
                                    : words_format(page, "it will not pass, by %s",
                                               words_length_step(page, stretch->short_in, step))));
    put_kinds(page, band);
    if (!stretch->passes) {
        page_say(page, 2, "What would let it through:");
        put_more_stitches(page, band);
        put_looser(page, band);
        put_sewn(page, band);
        put_needle(page, band);
        put_remedy(page, "Another place: work the band where less must go through, higher on the leg or "
                         "arm; or with more ease.");
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
