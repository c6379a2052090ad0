/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Motif or gap on the centre front and back, where to start the round, stitches to each needle.
 */
#include "report.h"

enum { START_AT = 4, JOGS_TO = 32, STRAND_AT = 36 };

static const char *line_words(enum plan_line line)
{
    static const char *const words[] = {"no mirror line", "the middle of a motif",
                                        "the middle of a gap", "a mirror line"};

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
        move = words_format(page, " For a motif in front begin every round with stitch %d%s: then there "
                                  "is %s behind.",
                            centre->front_start + 1,
                            centre->front_half_off ? ", half a stitch off" : "",
                            line_words(centre->front_back));
    page_entry(page, "centre",
               words_format(page, "started behind, there is %s in front and %s behind.%s",
                            line_words(centre->now.front), line_words(centre->now.back), move));
}

static void put_start(const struct page *page, const struct plan_start *start)
{
    struct text line = page_line(page);

    line_at(&line, START_AT,
            words_format(page, "stitch %d%s", start->at.start + 1,
                         start->at.start == 0 ? ", as drawn" : ""));
    line_to(&line, JOGS_TO,
            start->at.jog_rows == 0 ? "none" : words_rounds(page, start->at.jog_rows));
    line_at(&line, STRAND_AT,
            start->at.strand_yarn < 0
                ? "none"
                : words_format(page, "%s, %s, from %s %d%s",
                               words_count(page, start->at.strand_sts, "stitch", "stitches"),
                               words_clip(page, words_yarn(page, start->at.strand_yarn), 8),
                               words_round(page), start->at.strand_row + 1,
                               start->over_limit ? ": too long" : ""));
    page_put(page, &line);
}

/* As drawn, and the best, the best first. */
static void put_starts(const struct page *page, const struct plan_band *band)
{
    const struct plan_centre *centre = band->centre;
    struct text line = page_line(page);
    bool drawn = false;

    page_entry(page, "start",
               "where it is least seen: at the back, inside the leg, under the arm. The best, then as "
               "the chart is drawn:");
    line_at(&line, START_AT, "begin with");
    line_to(&line, JOGS_TO, "jog in");
    line_at(&line, STRAND_AT, "longest strand over the start");
    page_put(page, &line);
    for (int i = 0; i < centre->nbest; i++) {
        put_start(page, &centre->best[i]);
        drawn = drawn || centre->best[i].at.start == 0;
    }
    if (!drawn)
        put_start(page, &centre->now);
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
    put_starts(page, band);
    entry_needles(page, band);
}
