/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What if: other yarns and needles beside the plan; the gauges at which the catches change; the ladder of gauges.
 */
#include <math.h>
#include <string.h>

#include "report.h"

#include "render/render.h"

enum { NAME_AT = 2, NAME_WIDE = 12 };

/* Mark, name, gauge, repeats, size, longest float, catches. */
enum { REPEATS_WIDE = 8 };
static const struct page_column columns[] = {LEFT(0),   LEFT(NAME_AT), RIGHT(21), RIGHT(30),
                                             RIGHT(51), RIGHT(71),     RIGHT(80)};

static const char *gauge_number(const struct page *page, double per_in)
{
    return page->plan->cm_first ? words_decimal(page, per_in * 10.0 / 2.54, 1)
                                : words_decimal(page, per_in, 2);
}

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

static void put_piece(const struct page *page, const char *mark, const char *name, const struct plan_piece *piece)
{
    page_row(page, columns, mark, words_clip(page, name, NAME_WIDE), gauge_number(page, piece->gauge.per_in),
             words_clip(page, report_repeats(page, piece), REPEATS_WIDE),
             piece->nbands > 0 ? words_length(page, piece->bands[0].finished_in) : "",
             words_length(page, piece->longest_in), words_grouped(page, piece->catches));
}

static void put_gauges_head(const struct page *page, const char *names)
{
    page_row(page, columns, "", names, page->plan->cm_first ? "/10 cm" : "sts/in", "repeats", words_across(page),
             "longest float", "catches");
}

static void put_gauges(const struct page *page)
{
    const struct plan *plan = page->plan;

    put_gauges_head(page, "");
    put_piece(page, "", "this plan", &plan->piece);
    for (int i = 0; i < plan->ntries; i++)
        if (plan->tries[i].fits)
            put_piece(page, "", plan->tries[i].name, &plan->tries[i].piece);
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
    page_sayf(page, NAME_AT, "Yarn for %s, as worked:", words_pieces(page));
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

/* --- the ladder: the same chart and measure from fine yarn to heavy ----------------------------- */

enum { BAR_WIDE = 24 };

static const struct page_column unfit_columns[] = {LEFT(0), LEFT(NAME_AT), RIGHT(21), LEFT(23)};

/* Mark, gauges, catches, and those as a bar. */
static const struct page_column step_columns[] = {LEFT(0), LEFT(4), RIGHT(48), LEFT(52)};

static void put_rung(const struct page *page, const struct plan_rung *rung)
{
    const char *mark = rung->own ? ">" : "", *name = *rung->at.name ? rung->at.name : ".";

    if (rung->at.fits)
        put_piece(page, mark, name, &rung->at.piece);
    else
        page_row(page, unfit_columns, mark, words_clip(page, name, NAME_WIDE),
                 gauge_number(page, rung->at.piece.gauge.per_in), "does not fit; see below");
}

/* --- height, yarn, whether it passes -------------------------------------------------- */

static const char *rest_words(const struct page *page, const struct plan_piece *piece)
{
    struct text text = text_create(page->work->arena);

    text_addf(&text, "%s tall%s", words_length(page, piece->bands_height_in),
              report_passes(page, piece));
    for (int i = 0; i < piece->nyarns; i++) {
        const struct plan_yarn *yarn = &piece->yarns[i];

        if (!yarn->used)
            continue;
        text_addf(&text, "; %s %s", yarn->name, words_yarn_length_leading(page, yarn->length_m));
        if (yarn->buy.balls > 0)
            text_addf(&text, ", %s", words_count(page, yarn->buy.balls, "ball", "balls"));
    }
    return words_format(page, "%s.", text.bytes);
}

static void put_rests(const struct page *page, const struct plan_ladder *ladder)
{
    bool balls = false;

    page_gap(page);
    for (int i = 0; i < ladder->nrungs; i++) {
        const struct plan_rung *rung = &ladder->rungs[i];

        if (!rung->at.fits) {
            page_entry(page, gauge_number(page, rung->at.piece.gauge.per_in),
                       rung->at.why ? words_set(page, rung->at.why) : "It does not fit.");
            continue;
        }
        page_entry(page, gauge_number(page, rung->at.piece.gauge.per_in),
                   rest_words(page, &rung->at.piece));
        for (int y = 0; y < rung->at.piece.nyarns; y++)
            balls = balls || rung->at.piece.yarns[y].has_ball;
    }
    if (balls)
        page_say(page, NAME_AT,
                 "Balls are as heavy as those of the project, and of another yarn as much shorter or "
                 "longer as its stitches are larger or smaller: go by the length on its own band.");
}

/* --- gauges at which the catches change ------------------------------------------------- */

/* Which end belongs to a step the limit says; the ends of the ladder always do. */
static void put_step(const struct page *page, const struct plan_ladder_step *step, int64_t most,
                     bool first, bool last)
{
    bool catch_at = page->plan->piece.limit_catch_at;
    const char *from = gauge_number(page, step->from_per_in);
    const char *to = gauge_number(page, step->to_per_in);
    struct text bar = text_create(page->work->arena);

    text_repeat(&bar, '#', most > 0 ? (int)((step->catches * BAR_WIDE + most - 1) / most) : 0);
    page_row(page, step_columns, step->own ? ">" : "",
             strcmp(from, to) == 0
                 ? words_format(page, "at %s", to)
                 : words_format(page, "%s%s down to %s%s", catch_at || first ? "" : "under ", to,
                                catch_at && !last ? "over " : "", from),
             catches_of(page, step->catches), bar.bytes);
}

static void put_ladder_steps(const struct page *page, const struct plan_ladder *ladder)
{
    for (int i = 0; i < ladder->nsteps;) {
        const struct plan_band *band = &page->plan->piece.bands[ladder->steps[i].band];
        int end = i;
        int64_t most = 0;

        while (end < ladder->nsteps && ladder->steps[end].band == ladder->steps[i].band) {
            if (ladder->steps[end].catches > most)
                most = ladder->steps[end].catches;
            end++;
        }
        page_gap(page);
        page_sayf(page, NAME_AT, "Band %s, catches of %s, %s, at the fewest:", band->name,
                  band->outer ? "the chart worked once up" : "a repeat",
                  page->plan->cm_first ? "by stitches to 10 cm" : "by stitches to the inch");
        for (int first = i; i < end; i++)
            put_step(page, &ladder->steps[i], most, i == first, i == end - 1);
    }
}

/* --- in words --------------------------------------------------------------------------- */

static const char *at_words(const struct page *page, const struct plan_rung *rung)
{
    const char *gauge = words_gauge(page, rung->at.piece.gauge.per_in);

    return *rung->at.name ? words_format(page, "%s, %s,", gauge, rung->at.name)
                          : words_format(page, "%s,", gauge);
}

static const char *floats_words(const struct page *page, const struct plan_rung *rung)
{
    const struct plan_piece *piece = &rung->at.piece;

    return words_format(page, "%s %s, the longest float %s", at_words(page, rung),
                        words_count(page, piece->catches, "catch", "catches"),
                        words_length(page, piece->longest_in));
}

static const char *advice_words(const struct page *page, const struct plan_ladder *ladder)
{
    const char *from = ladder->first_longer < 0
                           ? ""
                           : at_words(page, &ladder->rungs[ladder->first_longer]);

    switch (ladder->first_longer < 0 ? ladder->rungs[ladder->heaviest].at.verdict
                                     : ladder->rungs[ladder->first_longer].at.verdict) {
    case VERDICT_NONE_LONG:
        return "No float becomes too long.";
    case VERDICT_TOO_LONG:
        return words_format(page, "From %s on, the floats become too long for the limit of %s, which now "
                                  "they are not: break the motif up, or stay with the finer yarn.",
                            from, words_limit(page));
    case VERDICT_LONGER:
        return words_format(page,
                            "Some are too long already; at %s and in heavier yarn, they are longer still: "
                            "break the motif up, or stay with the finer yarn.",
                            from);
    case VERDICT_NOT_LONGER:
        break;
    }
    return "The floats become no longer.";
}

static void say_heavier(const struct page *page, const struct plan_ladder *ladder)
{
    const char *own = floats_words(page, &ladder->rungs[ladder->own]);

    if (ladder->heavier < 0 || !ladder->rungs[ladder->own].at.fits)
        return;
    page_sayf(page, NAME_AT, "Yours: %s. The next heavier: %s.%s %s", own,
              floats_words(page, &ladder->rungs[ladder->heavier]),
              ladder->heaviest > ladder->heavier
                  ? words_format(page, " The heaviest: %s.",
                                 floats_words(page, &ladder->rungs[ladder->heaviest]))
                  : "",
              advice_words(page, ladder));
}

static void say_free(const struct page *page, const struct plan_ladder *ladder)
{
    const struct plan_rung *rung;

    if (ladder->free_to < 0) {
        page_sayf(page, NAME_AT,
                  "Some floats are over the limit of %s at every gauge here, the finest too.",
                  words_limit(page));
        return;
    }
    rung = &ladder->rungs[ladder->free_to];
    page_sayf(page, NAME_AT, "Down to %s no float is over the limit of %s: nothing need be caught.",
              at_words(page, rung), words_limit(page));
}

static void put_ladder(const struct page *page)
{
    const struct plan_ladder *ladder = page->plan->ladder;

    put_gauges_head(page, "yarn weight");
    for (int i = 0; i < ladder->nrungs; i++)
        put_rung(page, &ladder->rungs[i]);
    if (ladder->heaviest < 0) {
        page_say(page, NAME_AT, "At none of these gauges can the piece be planned.");
        put_rests(page, ladder);
        return;
    }
    page_say(page, NAME_AT,
             ladder->own_known ? "> marks your own gauge. Catches are the fewest, of one piece."
                               : "No swatch is given, so none of these is yours. Catches are the "
                                 "fewest, of one piece.");
    if (ladder->counts_left_out)
        page_say(page, NAME_AT,
                 "Counts you gave belong to a gauge you have not said. Here rib and plain parts have "
                 "about the stitches of the band beside them; parts counted otherwise are left out, and "
                 "balls are not counted. Add [swatch] for those.");
    put_rests(page, ladder);
    put_ladder_steps(page, ladder);
    page_gap(page);
    if (ladder->own >= 0)
        say_heavier(page, ladder);
    say_free(page, ladder);
}

static const char *aside(const struct page *page)
{
    return page->plan->ladder->by_weight
               ? "the middle of each yarn weight, from fine to heavy"
               : "the same chart and measure, from fine yarn to heavy";
}

void report_ladder(const struct page *page)
{
    if (!page->plan->ladder)
        return;
    page_heading(page, "LADDER OF GAUGES", aside(page));
    put_ladder(page);
}

void render_ladder(struct work *work, const struct plan *plan, const struct words_style *style,
                   struct text *out)
{
    struct page page = {work, plan, style, out};

    if (plan->ladder->own_known)
        report_title(&page);
    else
        page_heading(&page, *plan->title ? plan->title : plan->project_name, NULL);
    report_ladder(&page);
}
