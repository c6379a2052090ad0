/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Which stitches could be made in the floating yarn, and the catches that saves.
 */
#include "report.h"

enum { ONES_SAID = 2 };

static void say_pair(const struct page *page, const struct plan_band *band)
{
    const struct plan_recolours *recolours = &band->recolours;
    bool listed = recolours->pair_of[0] >= 0 && recolours->pair_of[0] < ONES_SAID &&
                  recolours->pair_of[1] >= 0 && recolours->pair_of[1] < ONES_SAID;

    if (!recolours->has_pair)
        return;
    if (listed)
        page_sayf(page, 4, "Both: %s.", words_recolour_saving(page, band, &recolours->pair));
    else
        page_say(page, 4, words_recolour_pair(page, band));
}

void report_recolours(const struct page *page)
{
    const struct plan_piece *piece = &page->plan->piece;
    bool any = false, listed = false;

    for (int i = 0; i < piece->nbands; i++) {
        const struct plan_band *band = &piece->bands[i];

        bool too_large = band->recolours.too_large;

        if (band->worked_fewest == 0)
            continue;
        if (!any)
            page_heading(page, "STITCHES YOU COULD CHANGE", "the fewest catches counted");
        any = true;
        if (piece->nbands > 1)
            page_sayf(page, 2, "Band %s", band->name);
        for (int k = 0; k < band->recolours.nones && k < ONES_SAID; k++)
            page_item(page, 2, words_format(page, "%d", k + 1),
                      words_recolour(page, band, &band->recolours.one[k]));
        say_pair(page, band);
        listed = listed || band->recolours.nones > 0;
        if (too_large)
            page_say(page, 2, "This band is too large to be searched.");
        else if (band->recolours.nones == 0)
            page_say(page, 2, "No stitch was found that, changed with its partners, saves a catch.");
    }
    if (listed)
        page_sayf(page, 2, "On the chart: strandwise draw %s --show" WORDS_TIE "changes", page->plan->project_name);
}
