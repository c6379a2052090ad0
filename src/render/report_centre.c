/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Motif or gap on the centre front and back, where to start the round, stitches to each needle.
 */
#include "report.h"

static const char *line_words(enum plan_line line)
{
    static const char *const words[] = {"no mirror line of the motif", "the middle of a motif",
                                        "the middle of a gap", "a mirror line of the motif"};

    return words[line];
}

static void entry_centre(const struct page *page, const struct plan_band *band)
{
    const struct plan_centre *centre = band->centre;
    const char *move = "";

    if (centre->motif < 0) {
        page_entry(page, "centre", "the repeat is not its own mirror image: nothing to centre");
        return;
    }
    if (centre->front_start >= 0 && centre->now.front != LINE_MOTIF)
        move = words_format(page,
                            " To have a motif in front, begin every round with stitch %d of the "
                            "chart%s; on the back is then %s.",
                            centre->front_start + 1,
                            centre->front_half_off ? ", which leaves it half a stitch off" : "",
                            line_words(centre->front_back));
    page_entry(page, "centre",
               words_format(page,
                            "started at the centre back, on the centre front is %s, on the back %s.%s",
                            line_words(centre->now.front), line_words(centre->now.back), move));
}

static const char *start_words(const struct page *page, const struct plan_start *start)
{
    const char *jogs = start->at.jog_rows == 0
                           ? "no jog"
                           : words_format(page, "a jog in %s", words_rounds(page, start->at.jog_rows));
    const char *strand =
        start->at.strand_yarn < 0
            ? "no strand"
            : words_format(page, "strands of at most %s (%s, from chart %s %d)%s",
                           words_count(page, start->at.strand_sts, "stitch", "stitches"),
                           words_yarn(page, start->at.strand_yarn), words_round(page),
                           start->at.strand_row + 1, start->over_limit ? ", over the limit" : "");

    return words_format(page, "stitch %d: %s, %s", start->at.start + 1, jogs, strand);
}

static void entry_start(const struct page *page, const struct plan_band *band)
{
    const struct plan_centre *centre = band->centre;
    struct text text = text_create(page->work->arena);

    text_addf(&text, "out of sight, at the back, inside the leg or under the arm. As the chart is, %s. Best "
                     "to begin with ",
              start_words(page, &centre->now));
    for (int i = 0; i < centre->nbest; i++)
        text_addf(&text, "%s%s", i == 0 ? "" : "; or ", start_words(page, &centre->best[i]));
    page_entry(page, "start", words_format(page, "%s.", text.bytes));
}

static void entry_needles(const struct page *page, const struct plan_band *band)
{
    struct text text = text_create(page->work->arena);

    for (int i = 0; i < PLAN_NEEDLE_WAYS; i++) {
        const struct plan_needles *way = &band->centre->needles[i];

        text_addf(&text, "%s%s ", i == 0 ? "" : "; ",
                  way->needles == 2 ? "two halves" : way->needles == 3 ? "three needles" : "four needles");
        for (int k = 0; k < way->needles; k++)
            text_addf(&text, "%s%d", k == 0 ? "" : ", ", way->sts[k]);
        if (way->crosses.rows == 0)
            text_add(&text, " (no float crosses)");
        else
            text_addf(&text, " (floats cross %s, the longest %s)",
                      words_times(page, way->crosses.rows),
                      words_count(page, way->crosses.longest_sts, "stitch", "stitches"));
    }
    page_entry(page, "needles",
               words_format(page, "%s. Keep a float that crosses easy.", text.bytes));
}

void report_centre(const struct page *page, const struct plan_band *band)
{
    if (!band->centre)
        return;
    entry_centre(page, band);
    entry_start(page, band);
    entry_needles(page, band);
}
