/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The counts of all bands solved together: the best few sets.
 */
#include "report.h"

/* "rib and pines on 264; cones on 200; neck on 87" */
static const char *counts_words(const struct page *page, const struct plan_together *together,
                                const struct plan_counts *set)
{
    struct text text = text_create(page->work->arena);

    for (int i = 0; i < together->nstages; i++)
        text_addf(&text, "%s%s on %s", i > 0 ? "; " : "", together->stages[i].names,
                  words_grouped(page, set->counts[i]));
    return text.bytes;
}

static const char *shaping_words(const struct page *page, const struct plan_counts *set)
{
    if (set->shaping_rounds == 0)
        return "no shaping between them";
    return words_format(page, "%s of shaping, %s made or taken away",
                        words_rounds(page, set->shaping_rounds),
                        words_count(page, set->shaped_sts, "stitch", "stitches"));
}

static void put_set(const struct page *page, const struct plan_together *together, int rank)
{
    static const char *const names[] = {"best", "second", "third"};
    const struct plan_counts *set = &together->sets[rank];

    page_entry(page, names[rank],
               words_format(page, "%s%s: %s; %s off the measures in all",
                            counts_words(page, together, set), set->planned ? " (as planned)" : "",
                            shaping_words(page, set), words_length(page, set->off_in)));
}

/* "two; three": the names of those out of reach, for the one reason or the other. */
static const char *far_names(const struct page *page, const struct plan_together *together, bool stopped,
                             int *count)
{
    struct text far = text_create(page->work->arena);

    *count = 0;
    for (int i = 0; i < together->nstages; i++)
        if (together->stages[i].far && together->stages[i].stopped == stopped)
            text_addf(&far, "%s%s", (*count)++ > 0 ? "; " : "", together->stages[i].names);
    return far.length > 0 ? far.bytes : "";
}

/* Where no count lay within reach that is said, of which parts, and why. */
static const char *weighed_words(const struct page *page, const struct plan_together *together)
{
    const char *reach = words_percent(page, together->reach);
    int nunsuited, nstopped;
    const char *unsuited = far_names(page, together, false, &nunsuited);
    const char *stopped = far_names(page, together, true, &nstopped);
    struct text text = text_create(page->work->arena);

    if (nunsuited + nstopped == 0)
        return words_format(page, "Counts within %s of their measures were weighed", reach);
    if (nunsuited > 0)
        text_addf(&text, "No count within %s of its measure suits%s%s: the nearest each way was weighed",
                  reach, nunsuited < together->nstages ? " " : "",
                  nunsuited < together->nstages ? unsuited : "");
    if (nstopped > 0)
        text_addf(&text, "%so count within %s of its measure passes what %s must: the nearest that does was "
                         "weighed",
                  nunsuited > 0 ? "; n" : "N", reach, stopped);
    if (nunsuited + nstopped < together->nstages)
        text_addf(&text, ", else all within %s", reach);
    return text.bytes;
}

void report_together(const struct page *page)
{
    const struct plan_together *together = page->plan->piece.together;

    if (!together)
        return;
    page_heading(page, "THE BANDS TOGETHER", "every motif whole, shaping least, sizes nearest");
    for (int i = 0; i < together->nsets; i++)
        put_set(page, together, i);
    page_sayf(page, 2,
              "%s: fewest rounds of shaping first, then the sizes nearest, then the fewest "
              "stitches shaped, then the larger count.",
              weighed_words(page, together));
    if (page->plan->piece.cast_on.selvedge_sts + page->plan->piece.cast_on.steek_sts > 0)
        page_sayf(page, 2, "Counts without edges and steek: %d stitches more are on the needle.",
                  page->plan->piece.cast_on.selvedge_sts + page->plan->piece.cast_on.steek_sts);
    if (!together->followed && together->nsets > 0 && !together->sets[0].planned)
        page_say(page, 2, "To have the best of them write counts = together under [measure].");
}
