/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Floats and catches of every band; yarns that wait.
 */
#include <inttypes.h>

#include "base/arena.h"
#include "base/work.h"
#include "report.h"

enum { NAME_AT = 4, NAME_WIDE = 16, TIGHT_COLUMNS_MAX = 8 };

static bool is_open(const struct page *page)
{
    return !page->plan->round || page->plan->piece.cast_on.steek_sts > 0;
}

static const char *float_length(const struct page *page, int span_sts, double span_in)
{
    return words_format(page, "%s, %s", words_count(page, span_sts, "stitch", "stitches"),
                        words_length(page, span_in));
}

/* --- floats ------------------------------------------------------------------------- */

/* Yarn, stitches, floats, too long, longest. */
static const struct page_column float_columns[] = {LEFT(NAME_AT), RIGHT(29), RIGHT(38), RIGHT(48), RIGHT(80)};

static void put_floats_of(const struct page *page, const struct plan_colour *colour, bool over)
{
    const struct float_tally *tally = is_open(page) ? &colour->worked : &colour->tally;
    double longest_in = is_open(page) ? colour->worked_longest_in : colour->longest_in;

    page_row(page, float_columns, words_clip(page, words_yarn(page, colour->yarn), NAME_WIDE),
             words_grouped(page, tally->stitches), words_grouped(page, tally->floats),
             over ? words_grouped(page, tally->over_limit) : "",
             tally->longest_sts > 0 ? float_length(page, tally->longest_sts, longest_in) : "");
}

static void put_floats(const struct page *page, const struct plan_band *band)
{
    bool over = band->worked_over_limit > 0;

    page_row(page, float_columns, is_open(page) ? "whole rows" : "one repeat", "stitches", "floats",
             over ? "too long" : "", "longest passes behind");
    for (int i = 0; i < band->ncolours; i++)
        put_floats_of(page, &band->colours[i], over);
}

/* --- catches ------------------------------------------------------------------------ */

/* Yarn, in a repeat, in a piece, in all pieces, spare. */
static const struct page_column catch_columns[] = {LEFT(NAME_AT), RIGHT(29), RIGHT(38), RIGHT(51), RIGHT(72)};

static void put_catch_head(const struct page *page, bool spares)
{
    bool pieces = page->plan->make > 1, open = is_open(page);

    page_row(page, catch_columns, "catches", open ? "whole rows" : "a repeat", pieces ? "a piece" : "in all",
             pieces ? words_pieces(page) : "",
             !spares ? "" : open ? "spare in whole rows" : "spare in a repeat");
}

static void put_catch_line(const struct page *page, const char *name, int64_t once, int64_t piece, const char *spares)
{
    int make = page->plan->make;

    page_row(page, catch_columns, words_clip(page, name, NAME_WIDE), words_grouped(page, once),
             words_grouped(page, piece), make > 1 ? words_grouped(page, piece * make) : "", spares);
}

/* What the spares of a repeat keep apart. */
static void say_spares(const struct page *page, const struct plan_band *band)
{
    const struct plan_spares *spares = &band->spares;

    page_say(page, NAME_AT,
             "Spare: one more than the fewest, where that keeps a catch off the one below it.");
    if (spares->kept > 0)
        page_sayf(page, NAME_AT,
                  "The %s %s %s from standing one above the other or behind one stitch.",
                  words_count(page, spares->catches, "spare", "spares"),
                  band->outer ? "" : "of a repeat ",
                  words_format(page, "%s %s", spares->catches == 1 ? "keeps" : "keep",
                               words_count(page, spares->kept, "pair", "pairs")));
}

static void put_catches(const struct page *page, const struct plan_band *band)
{
    bool spares = band->spares.catches > 0;
    int lines = 0;

    put_catch_head(page, spares);
    for (int i = 0; i < band->ncolours; i++) {
        const struct plan_colour *colour = &band->colours[i];

        if (colour->piece_catches == 0)
            continue;
        put_catch_line(page, words_yarn(page, colour->yarn), colour->once_catches, colour->piece_catches,
                       spares ? words_grouped(page, colour->once_spares) : "");
        lines++;
    }
    if (lines > 1)
        put_catch_line(page, "together", band->catches_once, band->catches_piece,
                       spares ? words_grouped(page, band->spares.catches) : "");
    if (spares)
        say_spares(page, band);
}

static const char *pairs(const struct page *page, int64_t n)
{
    return words_count(page, n, "pair", "pairs");
}

/* ": behind stitch 7 of rounds 5, 6 and 9; ..." */
static const char *tight_places(const struct page *page, const struct plan_band *band)
{
    struct text text = text_create(page->work->arena);
    int *rows = arena_alloc(page->work->arena, (size_t)band->ntight, sizeof *rows);
    int columns = 0;

    for (int i = 0, n = 0; i < band->ntight; i++) {
        const struct plan_tight *at = &band->tight[i];

        if (n == 0 || rows[n - 1] != at->row + 1)
            rows[n++] = at->row + 1;
        if (i + 1 < band->ntight && at[1].column == at->column)
            continue;
        if (columns++ == TIGHT_COLUMNS_MAX)
            return words_format(page, "%s; and elsewhere.", text.bytes);
        text_addf(&text, "%s behind %s, %s%s" WORDS_TIE "%s", columns == 1 ? ":" : ";",
                  words_row_stitch(page, band, at->column), words_round(page), n == 1 ? "" : "s",
                  words_numbers(page, rows, n));
        n = 0;
    }
    text_add(&text, ".");
    return text.bytes;
}

/* How the catches stand to each other: quiet when nothing dents. */
static void say_neighbours(const struct page *page, const struct plan_band *band)
{
    const struct catch_map *map = band->outer ? band->outer : band->catches;
    const char *where = !band->outer ? "in each repeat"
                        : band->upwards > 1 ? "in the rows of the chart" : "in the band";
    const char *rounds = say_rounds(page->plan->round)->many;

    if (map->stacked == 0 && map->doubled == 0 && map->touching == 0)
        page_sayf(page, NAME_AT,
                  "No catch stands on or right beside one in the next %s, and no two share a "
                  "stitch.",
                  words_round(page));
    if (map->stacked > 0)
        page_sayf(page, NAME_AT,
                  "%s %s %s above the other in neighbouring %s and may dent the fabric: catch "
                  "those loosely.",
                  pairs(page, map->stacked), where, map->stacked == 1 ? "stands one" : "stand one",
                  rounds);
    if (map->doubled > 0)
        page_sayf(page, NAME_AT, "%s %s: two strands behind one stitch, which makes a lump.",
                  pairs(page, map->doubled), where);
    if (map->touching > 0)
        page_sayf(page, NAME_AT, "%s %s %s one column apart in neighbouring %s.",
                  pairs(page, map->touching), where, map->touching == 1 ? "stands" : "stand",
                  rounds);
    if (band->ntight > 0)
        page_sayf(page, NAME_AT, "No room to stagger%s", tight_places(page, band));
}

/* Whether anything better could be had. With two ends the proof is of a repeat between others. */
static void say_proof(const struct page *page, const struct plan_band *band)
{
    const struct best_proof *proof = &band->proof;
    const char *edges = !band->outer ? "" : " Beside the edges they are placed row by row.";

    if (!band->placed_best)
        page_sayf(page, NAME_AT,
                  "Placed %s by %s, which is quick; placement = best looks at all %s together.",
                  words_round(page), words_round(page), say_rounds(page->plan->round)->many);
    else if (band->outer && band->repeats == 1)
        page_say(page, NAME_AT, "The best that was found for a repeat with open edges.");
    else if (proof->proven)
        page_sayf(page, NAME_AT,
                  "%s has fewer catches standing on each other, nor as few with fewer catches: "
                  "that is proven.%s",
                  band->outer ? "Between the edges no other placing" : "No other placing", edges);
    else
        page_sayf(page, NAME_AT,
                  "The best that was found. Proven of a repeat%s: fewer than %s cannot stand on "
                  "each other, and with no more than that %s are the fewest (here %s and %s).%s",
                  band->outer ? " between others" : "",
                  words_count(page, proof->stacks, "pair", "pairs"),
                  words_count(page, proof->catches, "catch", "catches"),
                  words_grouped(page, band->catches->stacked + band->catches->doubled),
                  words_grouped(page, band->catches_repeat), edges);
}

/* The round in which she stops most often. */
static void say_busiest(const struct page *page, const struct plan_band *band)
{
    if (band->busiest_row >= 0)
        page_sayf(page, NAME_AT, "Most in one %s: %s, in chart %s %d.", words_round(page),
                  words_grouped(page, band->busiest_catches), words_round(page),
                  band->busiest_row + 1);
}

/* The strand from the last use in a round to the first in the next: no part of the repeat. */
static void say_start(const struct page *page, const struct plan_band *band)
{
    struct text text = text_create(page->work->arena);
    bool over = false;

    for (int i = 0; !is_open(page) && i < band->ncolours; i++) {
        int span_sts = band->colours[i].tally.start_longest_sts;

        if (span_sts == 0)
            continue;
        over = over || span_sts > band->leave_sts;
        text_addf(&text, "%s%s %s", text.length > 0 ? "; " : "",
                  words_yarn(page, band->colours[i].yarn),
                  float_length(page, span_sts, band->colours[i].start_longest_in));
    }
    if (text.length > 0)
        page_sayf(page, NAME_AT,
                  "Over the start of the round, from the last stitch of a yarn to its first in the "
                  "next round, at most: %s.%s",
                  text.bytes,
                  over ? " The words catch it on the way; where a piece of it is still longer than "
                         "the limit, catch it once more."
                       : "");
}

/* The same at the turns of flat work whose yarns do not go to the edge. */
static void say_turns(const struct page *page, const struct plan_band *band)
{
    struct text text = text_create(page->work->arena);
    bool over = false;

    for (int i = 0; i < band->ncolours; i++) {
        const struct plan_colour *colour = &band->colours[i];

        if (colour->turn_longest_sts == 0)
            continue;
        over = over || colour->turn_longest_sts > band->leave_sts;
        text_addf(&text, "%s%s %s, after row" WORDS_TIE "%d", text.length > 0 ? "; " : "",
                  words_yarn(page, colour->yarn),
                  float_length(page, colour->turn_longest_sts, colour->turn_longest_in),
                  colour->turn_row + 1);
    }
    if (text.length > 0)
        page_sayf(page, NAME_AT,
                  "At the turns, from the last stitch of a yarn to its first in the next row, at "
                  "most: %s.%s",
                  text.bytes,
                  over ? " Nothing catches it there: edges = anchor takes every yarn to the edge."
                       : "");
}

static void put_band(const struct page *page, const struct plan_band *band)
{
    page_gap(page);
    if (page->plan->piece.nbands > 1)
        page_sayf(page, 2, "Band %s", band->name);
    put_floats(page, band);
    report_histogram(page, band);
    if (band->catches_piece > 0) {
        page_gap(page);
        put_catches(page, band);
        say_busiest(page, band);
        say_neighbours(page, band);
        report_crowding(page, band);
        say_proof(page, band);
        report_catch_places(page, band);
    }
    say_start(page, band);
    say_turns(page, band);
}

const char *report_limit(const struct page *page, const struct plan_band *band)
{
    const struct plan_piece *piece = &page->plan->piece;

    if (piece->limit_catch_at)
        return words_format(page, "A float of %s or longer is caught: one behind %s or more.",
                            words_limit(page),
                            words_count(page, band->leave_sts + 1, "stitch", "stitches"));
    return words_format(page, "A float of up to %s is left loose: one behind %s or fewer.",
                        words_limit(page),
                        words_count(page, band->leave_sts, "stitch", "stitches"));
}

void report_floats(const struct page *page)
{
    const struct plan_piece *piece = &page->plan->piece;
    bool any = false;

    for (int i = 0; i < piece->nbands; i++)
        any = any || piece->bands[i].ncolours > 1;
    if (!any)
        return;
    page_heading(page, piece->catches > 0 ? "FLOATS AND CATCHES" : "FLOATS", NULL);
    page_say(page, 2, report_limit(page, &piece->bands[0]));
    for (int i = 0; i < piece->nbands; i++)
        if (piece->bands[i].ncolours > 1)
            put_band(page, &piece->bands[i]);
}

/* --- waiting ------------------------------------------------------------------------ */

static void say_waits(const struct page *page, const struct plan_yarn *yarn)
{
    const struct carry_tally *carry = &yarn->carry;
    struct text text = text_create(page->work->arena);

    if (carry->waits > 0)
        text_addf(&text, "%s waits %s, at the longest %s: carry it up.", yarn->name,
                  words_times(page, carry->waits), words_rounds(page, carry->longest_wait_rows));
    if (carry->cuts > 0)
        text_addf(&text, "%s%s waits too long %s: cut it there and join again.",
                  text.length > 0 ? " " : "", text.length > 0 ? "It" : yarn->name,
                  words_times(page, carry->cuts));
    if (carry->ends > 2)
        text_addf(&text, " %s to weave in.", words_count(page, carry->ends, "end", "ends"));
    page_say(page, 2, text.bytes);
}

void report_waiting(const struct page *page)
{
    const struct plan_piece *piece = &page->plan->piece;
    bool any = false;

    for (int i = 0; i < piece->nyarns; i++)
        any = any || piece->yarns[i].carry.waits + piece->yarns[i].carry.cuts > 0;
    if (!any)
        return;
    page_heading(page, "COLOURS WAITING", page->plan->make > 1 ? "in each piece" : NULL);
    page_sayf(page, 2,
              "A wait of up to %s is carried up at the %s, twisted in every two to four %s; a "
              "longer one is cut.",
              words_length(page, page->plan->carry_up_in),
              page->plan->round ? "start of the round" : "edge",
              say_rounds(page->plan->round)->many);
    for (int i = 0; i < piece->nyarns; i++)
        if (piece->yarns[i].carry.waits + piece->yarns[i].carry.cuts > 0)
            say_waits(page, &piece->yarns[i]);
}
