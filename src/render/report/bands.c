/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Each band: its repeat, its size, and the ways round a repeat that does not meet the measure; counts solved together.
 */
#include <inttypes.h>

#include "report.h"

static void entry_stitches(const struct page *page, const struct plan_band *band)
{
    struct text text = text_create(page->work->arena);

    text_addf(&text, "%s = %s%s", words_repeats_of(page, band),
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
        page_entryf(
            page, "begins",
            "with stitch %d of the chart as drawn: in all of this plan columns of the chart are counted from there",
            band->begin + 1);
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

    page_entryf(page, say_rounds(page->plan->round)->many, "%s in the chart%s: numbers %s of the piece", chart,
                times, words_range(page, band->first_round, band->first_round + rows - 1));
}

static void entry_size(const struct page *page, const struct plan_band *band)
{
    page_entryf(page, "size", "%s %s, %s tall%s", words_length(page, band->finished_in), words_across(page),
                words_length(page, band->height_in), words_sewn(page, band->sewn_in));
}

static void entry_wanted(const struct page *page, const struct plan_band *band)
{
    struct text target = text_create(page->work->arena);

    if (!band->has_target)
        return;
    text_stitches(&target, band->target_sts);
    page_entryf(page, "asked for", "%s, which would be %s stitches exactly", words_length(page, band->wanted_in),
                words_set(page, target.bytes));
    page_entryf(page, "ease", "%s on your %s", words_signed_percent(page, band->ease_ratio),
                words_length(page, band->measure_in));
}

/* The way round that she picked, and all of this plan follows. */
static void entry_remedy(const struct page *page, const struct plan_band *band)
{
    if (band->remedy)
        page_entryf(page, "picked", "%s. %s", band->remedy->choice, words_set(page, band->remedy->line));
}

static bool is_as_planned(const struct plan_band *band, const struct fit_remedy *remedy)
{
    if (band->remedy)
        return remedy == band->remedy;
    return remedy->kind == FIT_ANOTHER_COUNT && remedy->repeats == band->repeats;
}

enum { SHAPES_IN_FULL = 3 };

static bool passes_now(const struct plan_band *band)
{
    return !band->stretch || band->stretch->passes;
}

static bool fails(const struct fit_remedy *remedy)
{
    return remedy->must && !remedy->passes;
}

/* How many pass what they must, or need not. */
static int count_passing(const struct plan_band *band)
{
    int passing = 0;

    for (int i = 0; i < band->nremedies; i++)
        passing += !fails(&band->remedies[i]) && !is_as_planned(band, &band->remedies[i]);
    return passing;
}

/* What is done and what comes of it; to shape is to knit a line, so of the best that is in full. */
static void put_all(const struct page *page, const struct plan_band *band, bool only_passing)
{
    int n = 0;

    for (int i = 0; i < band->nremedies; i++) {
        const struct fit_remedy *remedy = &band->remedies[i];

        if (is_as_planned(band, remedy) || (only_passing && fails(remedy)))
            continue;
        if (n++ < SHAPES_IN_FULL && remedy->kind == FIT_SHAPE)
            page_bulletf(page, 4, "%s. %s", remedy->choice, words_set(page, remedy->line));
        else
            page_bulletf(page, 4, "%s: %s.", remedy->choice, words_set(page, remedy->brief));
    }
}

/* Something else to pick, for an example: the best that needs no drawing first. NULL: nothing. */
static const struct fit_remedy *best_other(const struct plan_band *band)
{
    const struct fit_remedy *best = NULL;

    for (int i = band->nremedies - 1; i >= 0; i--) {
        const struct fit_remedy *remedy = &band->remedies[i];
        bool drawn_first = remedy->kind == FIT_REDRAW && best && fails(best) == fails(remedy);

        if (!is_as_planned(band, remedy) && !drawn_first)
            best = remedy;
    }
    return best;
}

/* The choices alone, of those that pass what they must or of those that do not: "trim, 7 repeats; shape,
 * 5 repeats". NULL: none. */
static const char *choices_words(const struct page *page, const struct plan_band *band, bool failing)
{
    struct text names = text_create(page->work->arena);

    for (int i = 0; i < band->nremedies; i++)
        if (!is_as_planned(band, &band->remedies[i]) && failing == fails(&band->remedies[i]))
            text_addf(&names, "%s%s", names.length > 0 ? "; " : "", band->remedies[i].choice);
    return names.length > 0 ? names.bytes : NULL;
}

static void put_within(const struct page *page, const struct plan_band *band)
{
    const char *names = choices_words(page, band, false);

    page_sayf(page, 2, "Within what your gauge is known to: nothing need be done.%s%s%s",
              names ? " Ways round there are all the same, for remedy =: " : "", names ? names : "",
              names ? "." : "");
}

/* She has picked: only what else there is to write. */
static void put_others(const struct page *page, const struct plan_band *band)
{
    const char *names = choices_words(page, band, false);

    page_say(page, 2,
             names ? words_format(page, "To write in place of what is picked: %s.", names)
                   : "No other way round lets it pass what it must.");
}

/* Why the list stands as it does. */
static const char *order_words(const struct page *page, const struct plan_band *band)
{
    const struct fit_question *question = band->fit->question;
    bool cuts = false;

    for (int i = 0; i < band->nremedies; i++)
        cuts = cuts || band->remedies[i].ntorn_rows > 0;
    return words_format(page,
                        "First stands what %sis within %s of the measure, needs no more catches in any "
                        "float and meets the measure%s; of those, what changes least.",
                        question->must_in > 0.0
                            ? words_format(page, "passes %s, ", words_length(page, question->must_in))
                            : "",
                        words_percent(page, question->far_ratio),
                        cuts ? " without cutting a line of the pattern" : "");
}

static const char *head_words(const struct page *page, const struct plan_band *band, bool only_passing)
{
    if (only_passing)
        return words_format(page, "As planned it does not pass %s; with %s it does.",
                            words_length(page, band->fit->question->must_in),
                            count_passing(band) == 1 ? "this" : "these");
    if (band->repeats_given)
        return words_format(page, "Ways to meet the measure instead of repeats = %d. %s", band->repeats,
                            order_words(page, band));
    return words_format(page, "Other ways to meet the measure. %s", order_words(page, band));
}

static const char *how_words(const struct page *page, const struct plan_band *band,
                             const struct fit_remedy *best)
{
    if (band->repeats_given)
        return words_format(page,
                            "To have one, take repeats = %d out of [band %s] and write there, like this: "
                            "remedy" WORDS_TIE "=" WORDS_TIE "%s.",
                            band->repeats, band->name, best->choice);
    return words_format(page, "To pick one, name it under [band %s], like this: remedy" WORDS_TIE "=" WORDS_TIE
                              "%s.", band->name, best->choice);
}

/* Counts shared or solved together: what else would give each band its own. */
static void put_together(const struct page *page, const struct plan_band *band)
{
    const struct fit_question *question = band->fit->question;
    struct text names = text_create(page->work->arena);

    for (int i = 1; i <= question->nshared; i++)
        text_addf(&names, "%s[band %s]", i == 1 ? "" : i == question->nshared ? " and " : ", ",
                  band[i].name);
    if (question->nshared > 0)
        page_sayf(page, 2,
                  "All of these suit the bands that share its count. Or take count = as below out "
                  "of %s: then each has a count of its own, and it is shaped between them.",
                  names.bytes);
    else if (question->weighed)
        page_say(page, 2,
                 "Its count is solved together with the rest. Without counts = together it has the "
                 "whole repeats nearest its own measure, and it is shaped between them.");
    if (question->rib_goes_on)
        page_say(page, 2,
                 "The rib goes on with this count: where it does not go into another one, write rib stitches "
                 "besides.");
}

static void put_remedies(const struct page *page, const struct plan_band *band)
{
    const struct fit_remedy *best = best_other(band);
    bool only_passing = !passes_now(band) && count_passing(band) > 0;
    const char *failing;

    if (band->count_as_below && !band->meets_target) {
        page_say(page, 2, "Its count is that of the part below: the ways round that suit both are there.");
        return;
    }
    if (!best || (band->meets_target && !only_passing))
        return; /* near enough: nothing to be done about it */
    if (band->remedy) {
        put_others(page, band);
        return;
    }
    if (band->within_gauge && passes_now(band)) {
        put_within(page, band);
        return;
    }
    page_sayf(page, 2, "%s %s", head_words(page, band, only_passing), how_words(page, band, best));
    put_all(page, band, only_passing);
    failing = only_passing ? choices_words(page, band, true) : NULL;
    if (failing)
        page_sayf(page, 2, "These do not pass: %s.", failing);
    else if (count_passing(band) == 0)
        page_say(page, 2,
                 passes_now(band)
                     ? "With none of them it would pass what it must; as planned it does."
                     : "With none of them it would pass what it must: what would let it through is below.");
    put_together(page, band);
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

/* --- counts solved together ------------------------------------------------------------------ */

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

    page_entryf(page, names[rank], "%s%s: %s; %s off the measures in all", counts_words(page, together, set),
                set->planned ? " (as planned)" : "", shaping_words(page, set), words_length(page, set->off_in));
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
