/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One project in several sizes.
 */
#include <math.h>

#include "report.h"

enum { NAME_AT = 2, NAME_WIDE = 11, REPEATS_WIDE = 8, BALLS_WIDE = 10 };

/* Mark, name, cast on, repeats, size, ease, catches, balls; or why there is none. */
static const struct page_column columns[] = {LEFT(0),   LEFT(NAME_AT), RIGHT(21), RIGHT(30),
                                             RIGHT(51), RIGHT(60),     RIGHT(69), RIGHT(80)};
static const struct page_column unfit_columns[] = {LEFT(0), LEFT(NAME_AT), LEFT(14)};

/* "2+1": in the order of the yarns; "." where no ball is known. */
static const char *balls_of(const struct page *page, const struct plan_piece *piece)
{
    struct text text = text_create(page->work->arena);
    int n = 0;

    for (int i = 0; i < piece->nyarns; i++) {
        const struct plan_yarn *yarn = &piece->yarns[i];

        if (!yarn->used)
            continue;
        text_addf(&text, "%s%s", n++ > 0 ? "+" : "",
                  yarn->has_ball ? words_grouped(page, yarn->buy.balls) : ".");
    }
    return words_clip(page, text.bytes, BALLS_WIDE);
}

static void put_size(const struct page *page, const struct plan_size *size)
{
    const struct plan_piece *piece = &size->at.piece;
    const char *mark = size->own ? ">" : "", *name = words_clip(page, size->at.name, NAME_WIDE);

    if (!size->at.fits)
        page_row(page, unfit_columns, mark, name, "does not fit; see below");
    else
        page_row(page, columns, mark, name, words_grouped(page, piece->cast_on.stitches),
                 words_clip(page, report_repeats(page, piece), REPEATS_WIDE),
                 words_length(page, piece->bands[size->furthest].finished_in),
                 words_signed_percent(page, piece->bands[size->furthest].ease_ratio),
                 words_grouped(page, piece->catches), balls_of(page, piece));
}

/* "chevron 112 stitches, 18 5/8 in (47.3 cm), 6.4 % more than wanted" */
static const char *band_words(const struct page *page, const struct plan_size *size, int index)
{
    const struct plan_piece *piece = &size->at.piece;
    const struct plan_band *band = &piece->bands[index];
    struct text text = text_create(page->work->arena);

    text_addf(&text, "%s%s", piece->nbands > 1 ? words_format(page, "%s ", band->name) : "",
              words_count(page, band->stitches_on_needle, "stitch", "stitches"));
    if (piece->nbands > 1)
        text_addf(&text, ", %s", words_length(page, band->finished_in));
    if (band->has_target && !band->meets_target)
        text_addf(&text, ", %s %s than wanted", words_percent(page, fabs(band->off_part)),
                  band->off_part > 0.0 ? "more" : "less");
    if (page->plan->piece.bands[index].remedy)
        text_addf(&text, " (%s; repeats of %d)",
                  band->remedy ? band->remedy->choice : "without a remedy", band->repeat_sts);
    return text.bytes;
}

static const char *rest_words(const struct page *page, const struct plan_size *size)
{
    const struct plan_piece *piece = &size->at.piece;
    struct text text = text_create(page->work->arena);

    text_addf(&text, "for %s", words_length(page, size->measure_in));
    if (!size->at.fits)
        return words_format(page, "%s. %s", text.bytes,
                            size->at.why ? words_set(page, size->at.why) : "It does not fit.");
    text_add(&text, ": ");
    for (int i = 0; i < piece->nbands; i++)
        text_addf(&text, "%s%s", i > 0 ? "; " : "", band_words(page, size, i));
    text_add(&text, report_passes(page, piece));
    if (size->same_as >= 0)
        text_addf(&text, "; on the same stitches as %s, no whole repeats lie nearer",
                  page->plan->sizes[size->same_as].at.name);
    for (int i = 0; i < piece->nyarns; i++)
        if (piece->yarns[i].used)
            text_addf(&text, "; %s %s", piece->yarns[i].name,
                      words_yarn_length_leading(page, piece->yarns[i].length_m));
    return words_format(page, "%s.", text.bytes);
}

static const char *yarns_in_order(const struct page *page)
{
    const struct plan_piece *piece = &page->plan->piece;
    struct text text = text_create(page->work->arena);

    for (int i = 0; i < piece->nyarns; i++)
        if (piece->yarns[i].used)
            text_addf(&text, "%s%s", text.length > 0 ? " + " : "", piece->yarns[i].name);
    return text.bytes;
}

void report_sizes(const struct page *page)
{
    const struct plan *plan = page->plan;
    bool own = false;

    if (plan->nsizes == 0)
        return;
    page_heading(page, "SIZES", "the same piece at each measure, at your gauge");
    page_row(page, columns, "", "size", "cast on", "repeats", words_across(page), "ease", "catches", "balls");
    for (int i = 0; i < plan->nsizes; i++) {
        put_size(page, &plan->sizes[i]);
        own = own || plan->sizes[i].own;
    }
    page_sayf(page, NAME_AT, "%s%sBalls for %s: %s. Catches of one piece.",
              own ? "> marks the size planned here. " : "",
              plan->piece.nbands > 1
                  ? "Size and ease are those of the band furthest from what is wanted. "
                  : "",
              words_pieces(page), yarns_in_order(page));
    page_gap(page);
    for (int i = 0; i < plan->nsizes; i++)
        page_entry(page, words_clip(page, plan->sizes[i].at.name, NAME_WIDE),
                   rest_words(page, &plan->sizes[i]));
    page_say(page, NAME_AT,
             "What lies across grows with the measure, rib and stitches of parts counted otherwise "
             "too. Lengths and heights stay: change them for each size.");
}
