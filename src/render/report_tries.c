/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What if: other yarns and needles beside the plan; the gauges at which the catches change.
 */
#include <inttypes.h>

#include "report.h"

enum { NAME_AT = 2, NAME_WIDE = 13, GAUGE_TO = 23, REPEATS_TO = 32, SIZE_TO = 50, LONGEST_TO = 72,
       CATCHES_TO = 80 };

static const char *repeats_words(const struct page *page, const struct plan_piece *piece)
{
    struct text text = text_create(page->work->arena);

    for (int i = 0; i < piece->nbands; i++)
        text_addf(&text, "%s%d", i > 0 ? "," : "", piece->bands[i].repeats);
    return words_clip(page, text.bytes, REPEATS_TO - GAUGE_TO - 1);
}

/* "10, 1 1/4 in (3.2 cm)" */
static const char *longest_words(const struct page *page, const struct plan_piece *piece)
{
    return words_format(page, "%d, %s", piece->longest_sts, words_length(page, piece->longest_in));
}

static void put_piece(const struct page *page, const char *name, const struct plan_piece *piece)
{
    struct text line = page_line(page);

    line_at(&line, NAME_AT, words_clip(page, name, NAME_WIDE));
    line_to(&line, GAUGE_TO, words_decimal(page, piece->gauge.per_in, 2));
    line_to(&line, REPEATS_TO, repeats_words(page, piece));
    if (piece->nbands > 0)
        line_to(&line, SIZE_TO, words_length(page, piece->bands[0].finished_in));
    line_to(&line, LONGEST_TO, longest_words(page, piece));
    line_to(&line, CATCHES_TO, words_grouped(page, piece->catches));
    page_put(page, &line);
}

static void put_try_head(const struct page *page)
{
    struct text line = page_line(page);

    line_to(&line, GAUGE_TO, "sts/in");
    line_to(&line, REPEATS_TO, "repeats");
    line_to(&line, SIZE_TO, words_across(page));
    line_to(&line, LONGEST_TO, "longest float, sts");
    line_to(&line, CATCHES_TO, "catches");
    page_put(page, &line);
}

static void put_gauges(const struct page *page)
{
    const struct plan *plan = page->plan;

    put_try_head(page);
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
             plan->make > 1 ? words_format(page, "Yarn for all %d pieces, as worked:", plan->make)
                            : "Yarn, as worked:");
    put_yarns_of(page, "this plan", &plan->piece);
    for (int i = 0; i < plan->ntries; i++)
        if (plan->tries[i].fits)
            put_yarns_of(page, plan->tries[i].name, &plan->tries[i].piece);
}

/* --- verdicts ----------------------------------------------------------------------- */

static const char *verdict(const struct page *page, const struct plan_try *try_out)
{
    const struct plan_piece *own = &page->plan->piece, *piece = &try_out->piece;
    const char *catches = words_count(page, piece->catches, "catch", "catches");
    const char *longest = words_format(page, "the longest passes behind %s, %s",
                                       words_count(page, piece->longest_sts, "stitch", "stitches"),
                                       words_length(page, piece->longest_in));
    const char *limit = words_length(page, piece->limit_in);

    if (!try_out->fits)
        return words_set(page, try_out->why ? try_out->why : "The chart does not fit at this gauge.");
    if (!piece->too_long)
        return words_format(page, "No float is too long: nothing need be caught; %s.", longest);
    if (piece->catches <= own->catches && own->too_long)
        return words_format(page,
                            "%s in place of %s. Some floats are still over the limit of %s; %s.",
                            catches, words_grouped(page, own->catches), limit, longest);
    return words_format(page,
                        "The floats become too long for the limit of %s: %s in place of %s; %s. "
                        "Break the motif up, or stay with the finer yarn.",
                        limit, catches, words_grouped(page, own->catches), longest);
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

    text_addf(&words, "Band %s takes %s a repeat at the fewest.", band->name,
              words_count(page, band->catches_fewest_repeat, "catch", "catches"));
    if (band->has_cliff_above)
        text_addf(&words, catch_at ? " Over %s stitches to the inch it takes %s."
                                   : " At %s stitches to the inch or more it takes %s.",
                  words_decimal(page, band->above.per_in, 2),
                  catches_of(page, band->above.catches));
    if (band->has_cliff_below)
        text_addf(&words, catch_at ? " At %s or fewer it takes %s." : " Under %s it takes %s.",
                  words_decimal(page, band->below.per_in, 2),
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
