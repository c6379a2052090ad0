/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What if: other yarns and needles beside the plan; the gauges at which the catches change.
 */
#include <inttypes.h>
#include <string.h>

#include "report.h"

enum { NAME_AT = 2, NAME_WIDE = 12, GAUGE_TO = 21, REPEATS_TO = 30, SIZE_TO = 51, LONGEST_TO = 71,
       CATCHES_TO = 80 };

const char *report_repeats(const struct page *page, const struct plan_piece *piece)
{
    struct text text = text_create(page->work->arena);

    for (int i = 0; i < piece->nbands; i++) {
        text_addf(&text, "%s%d", i > 0 ? "," : "", piece->bands[i].repeats);
        if (page->plan->piece.bands[i].remedy) /* of another chart in another size */
            text_addf(&text, "x%d", piece->bands[i].repeat_sts);
    }
    return text.bytes;
}

static void put_piece(const struct page *page, const char *name, const struct plan_piece *piece)
{
    struct text line = page_line(page);

    line_at(&line, NAME_AT, words_clip(page, name, NAME_WIDE));
    line_to(&line, GAUGE_TO,
            page->plan->cm_first ? words_decimal(page, 100.0 / piece->gauge.stitch_width_mm, 1)
                                 : words_decimal(page, piece->gauge.per_in, 2));
    line_to(&line, REPEATS_TO, words_clip(page, report_repeats(page, piece), REPEATS_TO - GAUGE_TO - 1));
    if (piece->nbands > 0)
        line_to(&line, SIZE_TO, words_length(page, piece->bands[0].finished_in));
    line_to(&line, LONGEST_TO, words_length(page, piece->longest_in));
    line_to(&line, CATCHES_TO, words_grouped(page, piece->catches));
    page_put(page, &line);
}

void report_gauge_head(const struct page *page, const char *names)
{
    struct text line = page_line(page);

    line_at(&line, NAME_AT, names);
    line_to(&line, GAUGE_TO, page->plan->cm_first ? "/10 cm" : "sts/in");
    line_to(&line, REPEATS_TO, "repeats");
    line_to(&line, SIZE_TO, words_across(page));
    line_to(&line, LONGEST_TO, "longest float");
    line_to(&line, CATCHES_TO, "catches");
    page_put(page, &line);
}

static void put_gauges(const struct page *page)
{
    const struct plan *plan = page->plan;

    report_gauge_head(page, "");
    put_piece(page, "this plan", &plan->piece);
    for (int i = 0; i < plan->ntries; i++)
        if (plan->tries[i].fits)
            put_piece(page, plan->tries[i].name, &plan->tries[i].piece);
}

/* --- yarn --------------------------------------------------------------------------- */

static const char *bought_words(const struct page *page, const struct plan_yarn *yarn)
{
    const char *balls = yarn->buy.balls > 0
                            ? words_format(page, ", %s",
                                           words_count(page, yarn->buy.balls, "ball", "balls"))
                            : "";

    return words_format(page, "%s%s", words_yarn_length(page, yarn->length_m), balls);
}

static void put_yarns_of(const struct page *page, const char *name,
                         const struct plan_piece *piece)
{
    struct text words = text_create(page->work->arena);

    for (int i = 0; i < piece->nyarns; i++)
        if (piece->yarns[i].used)
            text_addf(&words, "%s%s %s", words.length > 0 ? "; " : "", piece->yarns[i].name,
                      bought_words(page, &piece->yarns[i]));
    page_entry(page, words_clip(page, name, NAME_WIDE), words.bytes);
}

static void put_yarns(const struct page *page)
{
    const struct plan *plan = page->plan;

    page_gap(page);
    page_say(page, NAME_AT,
             words_format(page, "Yarn for %s, as worked:", words_pieces(page)));
    put_yarns_of(page, "this plan", &plan->piece);
    for (int i = 0; i < plan->ntries; i++)
        if (plan->tries[i].fits)
            put_yarns_of(page, plan->tries[i].name, &plan->tries[i].piece);
}

/* --- verdicts ----------------------------------------------------------------------- */

static const char *floats_verdict(const struct page *page, const struct plan_try *try_out)
{
    const struct plan_piece *own = &page->plan->piece, *piece = &try_out->piece;
    const char *count = words_count(page, piece->catches, "catch", "catches");
    const char *catches =
        piece->catches == own->catches
            ? words_format(page, "%s, as many as now", count)
            : words_format(page, "%s in place of %s", count, words_grouped(page, own->catches));
    const char *longest = words_format(page, "the longest passes behind %s, %s",
                                       words_count(page, piece->longest_sts, "stitch", "stitches"),
                                       words_length(page, piece->longest_in));
    const char *limit = words_limit(page);

    if (!try_out->fits)
        return words_set(page, try_out->why ? try_out->why : "The chart does not fit at this gauge.");
    switch (try_out->verdict) {
    case VERDICT_NONE_LONG:
        return words_format(page, "No float is too long: nothing need be caught; %s.", longest);
    case VERDICT_TOO_LONG:
        return words_format(page,
                            "The floats become too long for the limit of %s, which now they are "
                            "not: %s; %s. Break the motif up, or stay with the finer yarn.",
                            limit, catches, longest);
    case VERDICT_LONGER:
        return words_format(page,
                            "The floats become longer still: %s; %s, over the limit of %s. Break "
                            "the motif up, or stay with the finer yarn.",
                            catches, longest, limit);
    case VERDICT_NOT_LONGER:
        break;
    }
    return words_format(page, "Some floats are still over the limit of %s: %s; %s.", limit, catches,
                        longest);
}

/* What becomes of the floats; and whether it goes over what it must. */
static const char *verdict(const struct page *page, const struct plan_try *try_out)
{
    const char *passes = try_out->fits ? report_passes(page, &try_out->piece) : "";

    return *passes ? words_format(page, "%s It %s.", floats_verdict(page, try_out), passes + strlen("; "))
                   : floats_verdict(page, try_out);
}

static void put_verdicts(const struct page *page)
{
    const struct plan *plan = page->plan;

    page_gap(page);
    for (int i = 0; i < plan->ntries; i++)
        page_item(page, NAME_AT, words_format(page, "%s:", plan->tries[i].name),
                  verdict(page, &plan->tries[i]));
}

/* --- steps of the gauge ------------------------------------------------------------- */

static const char *catches_of(const struct page *page, int64_t catches)
{
    return catches == 0 ? "none" : words_grouped(page, catches);
}

static void say_steps(const struct page *page, const struct plan_band *band)
{
    bool catch_at = page->plan->piece.limit_catch_at;
    struct text words = text_create(page->work->arena);

    text_addf(&words, "Band %s takes %s %s at the fewest.", band->name,
              band->lengths_fewest == 0 ? "no catch"
                                        : words_count(page, band->lengths_fewest, "catch", "catches"),
              band->outer ? "each time its chart is worked" : "a repeat");
    if (band->has_cliff_above)
        text_addf(&words, catch_at ? " Over %s it takes %s."
                                   : " At %s or more it takes %s.",
                  words_gauge(page, band->above.per_in),
                  catches_of(page, band->above.catches));
    if (band->has_cliff_below)
        text_addf(&words, catch_at ? " At %s or fewer it takes %s." : " Under %s it takes %s.",
                  words_gauge(page, band->below.per_in),
                  catches_of(page, band->below.catches));
    page_say(page, NAME_AT, words.bytes);
}

static bool any_steps(const struct plan_piece *piece)
{
    for (int i = 0; i < piece->nbands; i++)
        if (piece->bands[i].has_cliff_above || piece->bands[i].has_cliff_below)
            return true;
    return false;
}

void report_tries(const struct page *page)
{
    const struct plan *plan = page->plan;
    bool steps = any_steps(&plan->piece);
    bool fits = false;

    for (int i = 0; i < plan->ntries; i++)
        fits = fits || plan->tries[i].fits;
    if (plan->ntries == 0 && !steps)
        return;
    page_heading(page, "WHAT IF", plan->ntries > 0 ? "the same chart and measure at another gauge"
                                                   : "the gauge moves");
    if (fits) {
        put_gauges(page);
        put_yarns(page);
    }
    if (plan->ntries > 0)
        put_verdicts(page);
    if (steps && plan->ntries > 0)
        page_gap(page);
    for (int i = 0; i < plan->piece.nbands; i++)
        if (plan->piece.bands[i].has_cliff_above || plan->piece.bands[i].has_cliff_below)
            say_steps(page, &plan->piece.bands[i]);
}
