/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The ladder: the same chart and measure from fine yarn to heavy.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "report.h"

#include "render/render.h"

enum {
    NAME_AT = 2, NAME_WIDE = 12, GAUGE_TO = 21, REPEATS_TO = 30, SIZE_TO = 51, LONGEST_TO = 71,
    CATCHES_TO = 80, TO_AT = 4, CATCHES_AT = 44, BAR_AT = 52, BAR_WIDE = 24
};

static const char *gauge_number(const struct page *page, double per_in)
{
    return page->plan->cm_first ? words_decimal(page, per_in * 10.0 / 2.54, 1)
                                : words_decimal(page, per_in, 2);
}

static const char *rung_name(const struct page *page, const struct plan_rung *rung)
{
    return *rung->at.name ? words_clip(page, rung->at.name, NAME_WIDE) : ".";
}

/* --- the table ---------------------------------------------------------------------- */

static void put_rung(const struct page *page, const struct plan_rung *rung)
{
    const struct plan_piece *piece = &rung->at.piece;
    struct text line = page_line(page);

    line_at(&line, 0, rung->own ? ">" : "");
    line_at(&line, NAME_AT, rung_name(page, rung));
    line_to(&line, GAUGE_TO, gauge_number(page, piece->gauge.per_in));
    if (!rung->at.fits) {
        line_at(&line, GAUGE_TO + 2, "does not fit; see below");
    } else {
        line_to(&line, REPEATS_TO, words_clip(page, report_repeats(page, piece), REPEATS_TO - GAUGE_TO - 1));
        line_to(&line, SIZE_TO, words_length(page, piece->bands[0].finished_in));
        line_to(&line, LONGEST_TO, words_length(page, piece->longest_in));
        line_to(&line, CATCHES_TO, words_grouped(page, piece->catches));
    }
    page_put(page, &line);
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
    struct text line = page_line(page);
    const char *from = gauge_number(page, step->from_per_in);
    const char *to = gauge_number(page, step->to_per_in);
    struct text bar = text_create(page->work->arena);
    int64_t wide = most > 0 ? (step->catches * BAR_WIDE + most - 1) / most : 0;

    line_at(&line, 0, step->own ? ">" : "");
    line_at(&line, TO_AT,
            strcmp(from, to) == 0
                ? words_format(page, "at %s", to)
                : words_format(page, "%s%s down to %s%s", catch_at || first ? "" : "under ", to,
                         catch_at && !last ? "over " : "", from));
    line_to(&line, CATCHES_AT + 4, step->catches == 0 ? "none" : words_grouped(page, step->catches));
    for (int64_t i = 0; i < wide; i++)
        text_add(&bar, "#");
    line_at(&line, BAR_AT, bar.bytes);
    page_put(page, &line);
}

static void put_steps(const struct page *page, const struct plan_ladder *ladder)
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
        page_say(page, NAME_AT,
                 words_format(page, "Band %s, catches of %s, %s, at the fewest:", band->name,
                              band->outer ? "the chart worked once up" : "a repeat",
                              page->plan->cm_first ? "by stitches to 10 cm"
                                                   : "by stitches to the inch"));
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
    page_say(page, NAME_AT,
             words_format(page, "Yours: %s. The next heavier: %s.%s %s", own,
                          floats_words(page, &ladder->rungs[ladder->heavier]),
                          ladder->heaviest > ladder->heavier
                              ? words_format(page, " The heaviest: %s.",
                                             floats_words(page, &ladder->rungs[ladder->heaviest]))
                              : "",
                          advice_words(page, ladder)));
}

static void say_free(const struct page *page, const struct plan_ladder *ladder)
{
    const struct plan_rung *rung;

    if (ladder->free_to < 0) {
        page_say(page, NAME_AT,
                 words_format(page,
                              "Some floats are over the limit of %s at every gauge here, the finest "
                              "too.",
                              words_limit(page)));
        return;
    }
    rung = &ladder->rungs[ladder->free_to];
    page_say(page, NAME_AT,
             words_format(page, "Down to %s no float is over the limit of %s: nothing need be caught.",
                          at_words(page, rung), words_limit(page)));
}

static void put_ladder(const struct page *page)
{
    const struct plan_ladder *ladder = page->plan->ladder;

    report_gauge_head(page, "yarn weight");
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
    put_steps(page, ladder);
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
