/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Each band: its repeat, its size, and the ways round a repeat that does not meet the measure.
 */
#include <inttypes.h>

#include "report.h"

static void entry_stitches(const struct page *page, const struct plan_band *band)
{
    struct text text = text_create(page->work->arena);

    text_addf(&text, "%s of %d = %s%s",
              words_count(page, band->repeats, "repeat", "repeats"), band->repeat_sts,
              words_count(page, band->stitches, "stitch", "stitches"),
              band->repeats_given ? ", the number you gave" : "");
    if (band->side_sts > 0)
        text_addf(&text, ", and %s at the sides",
                  words_count(page, band->side_sts, "stitch", "stitches"));
    if (band->stitches_on_needle != band->stitches)
        text_addf(&text, "; %s on the needle", words_grouped(page, band->stitches_on_needle));
    page_entry(page, "stitches", text.bytes);
}

static void entry_begins(const struct page *page, const struct plan_band *band)
{
    if (band->begin > 0)
        page_entry(page, "begins",
                   words_format(page, "with stitch %d of the chart as drawn: in all of this plan columns "
                                      "of the chart are counted from there",
                                band->begin + 1));
}

static void entry_rows(const struct page *page, const struct plan_band *band)
{
    int64_t rows = (int64_t)band->rows * band->upwards;
    const char *chart = words_rounds(page, band->rows);
    const char *times = band->upwards > 1
                            ? words_format(page, ", worked %s, one above the other = %s",
                                           words_times(page, band->upwards),
                                           words_rounds(page, rows))
                            : "";

    page_entry(page, page->plan->round ? "rounds" : "rows",
               words_format(page, "%s in the chart%s: numbers %s of the piece", chart, times,
                            words_range(page, band->first_round, band->first_round + rows - 1)));
}

static void entry_size(const struct page *page, const struct plan_band *band)
{
    page_entry(page, "size",
               words_format(page, "%s %s, %s tall%s", words_length(page, band->finished_in),
                            words_across(page), words_length(page, band->height_in),
                            words_sewn(page, band->sewn_in)));
}

static void entry_wanted(const struct page *page, const struct plan_band *band)
{
    struct text target = text_create(page->work->arena);

    if (!band->has_target)
        return;
    text_stitches(&target, band->target_sts);
    page_entry(page, "asked for",
               words_format(page, "%s, which would be %s stitches exactly",
                            words_length(page, band->wanted_in), words_set(page, target.bytes)));
    page_entry(page, "ease",
               words_format(page, "%s on your %s", words_signed_percent(page, band->ease_ratio),
                            words_length(page, band->measure_in)));
}

/* The way round that she picked, and all of this plan follows. */
static void entry_remedy(const struct page *page, const struct plan_band *band)
{
    if (band->remedy)
        page_entry(page, "picked",
                   words_format(page, "%s. %s", band->remedy->choice,
                                words_set(page, band->remedy->line)));
}

static bool is_as_planned(const struct plan_band *band, const struct fit_remedy *remedy)
{
    if (band->remedy)
        return remedy == band->remedy;
    return remedy->kind == FIT_ANOTHER_COUNT && remedy->repeats == band->repeats;
}

enum { REMEDIES_SHOWN = 3 };

static const char *bullet(const struct page *page)
{
    return page->style->utf8 ? "\u2022" : "-";
}

/* A line or two of each of the best; to shape is to knit a line, so that is there in full. */
static void put_best(const struct page *page, const struct fit_remedy *remedy)
{
    if (remedy->kind == FIT_SHAPE)
        page_item(page, 4, bullet(page),
                  words_format(page, "%s. %s", remedy->choice, words_set(page, remedy->line)));
    else
        page_item(page, 4, bullet(page),
                  words_format(page, "%s: %s.", remedy->choice, words_set(page, remedy->brief)));
}

static void put_all(const struct page *page, const struct plan_band *band, int total)
{
    int n = 0;

    for (int i = 0; i < band->nremedies; i++) {
        const struct fit_remedy *remedy = &band->remedies[i];

        if (is_as_planned(band, remedy))
            continue;
        if (n == REMEDIES_SHOWN)
            page_say(page, 2,
                     words_format(page, "And %d more; strandwise plan %s --as json says of each what is "
                                        "done and what it costs:",
                                  total - n, words_set(page, page->plan->project_name)));
        if (n++ < REMEDIES_SHOWN)
            put_best(page, remedy);
        else
            page_item(page, 4, bullet(page),
                      words_format(page, "%s: %s", remedy->choice,
                                   words_count(page, remedy->stitches, "stitch", "stitches")));
    }
}

/* Something else to pick, for an example: the best that needs no drawing first. NULL: nothing. */
static const struct fit_remedy *best_other(const struct plan_band *band, int *others)
{
    const struct fit_remedy *best = NULL;

    *others = 0;
    for (int i = band->nremedies - 1; i >= 0; i--) {
        if (is_as_planned(band, &band->remedies[i]))
            continue;
        if (!best || band->remedies[i].kind != FIT_REDRAW)
            best = &band->remedies[i];
        ++*others;
    }
    return best;
}

static void put_within(const struct page *page, const struct plan_band *band)
{
    struct text names = text_create(page->work->arena);

    for (int i = 0; i < band->nremedies; i++)
        if (!is_as_planned(band, &band->remedies[i]))
            text_addf(&names, "%s%s", names.length > 0 ? "; " : "", band->remedies[i].choice);
    page_say(page, 2,
             words_format(page,
                          "Within what your gauge is known to: nothing need be done.%s%s%s",
                          names.length > 0 ? " Ways round there are all the same, for remedy =: " : "",
                          names.length > 0 ? names.bytes : "", names.length > 0 ? "." : ""));
}

static bool none_passes(const struct plan_band *band)
{
    for (int i = 0; i < band->nremedies; i++)
        if (!band->remedies[i].must || band->remedies[i].passes)
            return false;
    return band->nremedies > 0;
}

static void put_remedies(const struct page *page, const struct plan_band *band)
{
    int others;
    const struct fit_remedy *best = best_other(band, &others);

    if (band->count_as_below && !band->meets_target) {
        page_say(page, 2, "Its count is that of the part below: the ways round that suit both are there.");
        return;
    }
    if (band->meets_target || !best)
        return; /* near enough: nothing to be done about it */
    if (band->within_gauge) {
        put_within(page, band);
        return;
    }
    if (band->repeats_given)
        page_say(page, 2,
                 words_format(page,
                              "Ways to meet the measure instead of repeats = %d, the easiest that meets "
                              "it first. To have one, take repeats = %d out of [band %s] and write there, "
                              "like this: remedy = %s.",
                              band->repeats, band->repeats, band->name, best->choice));
    else
        page_say(page, 2,
                 words_format(page,
                              "Other ways to meet the measure, the easiest that meets it first. To pick "
                              "one, name it under [band %s], like this: remedy = %s.",
                              band->name, best->choice));
    put_all(page, band, others);
    if (none_passes(band))
        page_say(page, 2,
                 band->stretch && band->stretch->passes
                     ? "With none of them it would pass what it must; as planned it does."
                     : "With none of them it would pass what it must: what would let it through is below.");
}

void report_bands(const struct page *page)
{
    const struct plan_piece *piece = &page->plan->piece;

    for (int i = 0; i < piece->nbands; i++) {
        const struct plan_band *band = &piece->bands[i];

        page_heading(page, words_format(page, "BAND %s", band->name),
                     words_format(page, "from %s", band->chart_name));
        entry_stitches(page, band);
        entry_begins(page, band);
        entry_rows(page, band);
        entry_size(page, band);
        entry_wanted(page, band);
        entry_remedy(page, band);
        put_remedies(page, band);
        report_centre(page, band);
        report_stretch(page, band);
    }
}
