/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Where plain and stranded fabric meet in one piece: the step between them, and what takes it away.
 */
#include <math.h>

#include "report.h"

enum { WORDS_AT = 4 };

static const char *narrower(double step_in)
{
    return step_in > 0.0 ? "narrower" : "wider";
}

static void put_remedy(const struct page *page, const char *words)
{
    page_item(page, WORDS_AT, page->style->utf8 ? "\u2022" : "-", words);
}

static void put_needle(const struct page *page, const struct plan_border *border)
{
    put_remedy(page,
               words_format(page, "A %s needle for the band: at %s there is no step (%s); swatch again.",
                            border->needle_part < 0.0 ? "larger" : "smaller",
                            words_gauge(page, border->needle_per_in),
                            words_signed_percent(page, border->needle_part)));
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
        put_remedy(page, words_format(page,
                                      "Another count: %s stitches in the band would be as wide, but "
                                      "no whole repeats%s come nearer than the %d it has.",
                                      even, shared_words(page, border), border->band_sts));
        return;
    }
    if (border->fit_stopped) {
        const struct plan_stretch *stretch = page->plan->piece.bands[border->band].stretch;
        const char *now = stretch && !stretch->passes
                              ? words_format(page, ", nor does it on the %d it has", border->band_sts)
                              : "";

        put_remedy(page, words_format(page,
                                      "Another count: %s stitches in the band would be as wide; %s%s are "
                                      "%d, and on so few it does not pass what it must%s.",
                                      even,
                                      words_count(page, border->fit_repeats, "repeat", "repeats"),
                                      shared_words(page, border), border->fit_sts, now));
        return;
    }
    put_remedy(page,
               words_format(page,
                            "Another count: %s stitches in the band would be as wide, %s%s are %d: "
                            "then the band is %s %s (%s). %s%s%s",
                            even, words_count(page, border->fit_repeats, "repeat", "repeats"),
                            shared_words(page, border),
                            border->fit_sts, words_length(page, fabs(border->fit_step_in)),
                            narrower(border->fit_step_in),
                            words_percent(page, fabs(border->fit_step_part)),
                            border->fit_line ? "From the one to the other: " : "No shaping is needed",
                            border->fit_line ? border->fit_line : "", "."));
}

static void put_plain(const struct page *page, const struct plan_border *border)
{
    if (border->plain_fit_sts == 0)
        return;
    put_remedy(page,
               words_format(page,
                            "Another count of the plain part: on %d stitches it is as wide as the band "
                            "(stitches on needle = %d).%s%s%s",
                            border->plain_fit_sts, border->plain_fit_on_needle,
                            border->plain_fit_line ? " From the one to the other: " : "",
                            border->plain_fit_line ? border->plain_fit_line : "",
                            border->plain_fit_line ? "." : ""));
}

static void put_border(const struct page *page, const struct plan_border *border)
{
    const struct plan_band *band = &page->plan->piece.bands[border->band];

    page_say(page, 2,
             border->plain_below
                 ? words_format(page, "From part %s into band %s:", border->plain_name, band->name)
                 : words_format(page, "From band %s into part %s:", band->name, border->plain_name));
    page_sayf(page, WORDS_AT,
              "%d stitches are %s plain and would be %s in the band: stranding %s %s.",
              border->plain_sts, words_length(page, border->plain_in),
              words_length(page, border->plain_in - border->drawn_in),
              border->drawn_in >= 0.0 ? "draws in by" : "here widens by",
              words_percent(page, fabs(border->drawn_part)));
    page_sayf(page, WORDS_AT, "On its %d stitches the band is %s: a step of %s, %s %s%s",
              border->band_sts, words_length(page, border->band_in),
              words_length(page, fabs(border->step_in)),
              words_percent(page, fabs(border->step_part)), narrower(border->step_in),
              border->slight   ? ". Nothing need be done about so little."
              : border->shaped ? ". If that is the shape you want, leave it; else:"
                               : ". Change something:");
    if (border->slight)
        return;
    if (border->needle_near)
        put_needle(page, border);
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
