/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Stitches in another colour, as every output says them.
 */
#include "words.h"
#include "words/say.h"

/* The first cell of the next row. */
static int row_end(const struct plan_recolour *change, int i)
{
    int row = change->cells[i].row;

    while (i < change->ncells && change->cells[i].row == row)
        i++;
    return i;
}

/* "5th and 9th" */
static void add_ordinals(struct text *text, const struct plan_recolour *change, int from, int to)
{
    for (int i = from; i < to; i++) {
        text_add(text, say_link(i - from, to - from));
        words_add_ordinal(text, change->cells[i].column + 1);
    }
}

/* " (and its partners, the 9th, and the 5th and 9th of round 3)" */
static const char *partners(const struct page *page, const struct plan_recolour *change)
{
    struct text text = text_create(page->work->arena);
    int first_end = row_end(change, 0);

    if (change->ncells == 1)
        return "";
    text_add(&text, change->ncells == 2 ? " (and its partner, the " : " (and its partners, the ");
    if (first_end > 1)
        add_ordinals(&text, change, 1, first_end);
    for (int i = first_end, end; i < change->ncells; i = end) {
        end = row_end(change, i);
        text_add(&text, i == 1 ? "" : end < change->ncells ? ", the " : ", and the ");
        add_ordinals(&text, change, i, end);
        text_addf(&text, " of %s" WORDS_TIE "%d", words_round(page), change->cells[i].row + 1);
    }
    text_add(&text, ")");
    return text.bytes;
}

/* "Round 9: make the 5th stitch of each repeat slate (and its partner, the 9th)" */
static const char *change_words(const struct page *page, const struct plan_band *band,
                                const struct plan_recolour *change)
{
    const struct recolour_cell *first = &change->cells[0];

    return words_format(page, "%s" WORDS_TIE "%d: make the %s stitch%s %s%s",
                        say_rounds(page->plan->round)->One, first->row + 1,
                        words_ordinal(page, first->column + 1),
                        band->repeats > 1 ? " of each repeat" : "", words_yarn(page, first->yarn),
                        partners(page, change));
}

/* The pair: what two changes make of each stitch, row by row. */
static const char *pair_words(const struct page *page, const struct plan_recolour *pair)
{
    struct text text = text_create(page->work->arena);

    for (int i = 0; i < pair->ncells; i++) {
        const struct recolour_cell *cell = &pair->cells[i];
        bool new_row = i == 0 || cell->row != pair->cells[i - 1].row;

        if (new_row)
            text_addf(&text, "%s%s" WORDS_TIE "%d the ", i > 0 ? "; " : "", words_round(page),
                      cell->row + 1);
        else
            text_add(&text, ", ");
        words_add_ordinal(&text, cell->column + 1);
        if (i + 1 == pair->ncells || pair->cells[i + 1].row != cell->row ||
            pair->cells[i + 1].yarn != cell->yarn)
            text_addf(&text, " in %s", words_yarn(page, cell->yarn));
    }
    return text.bytes;
}

/* "2 stitches changed, 24 catches fewer in the piece (48 in both pieces)" */
const char *words_recolour_saving(const struct page *page, const struct plan_band *band,
                                  const struct plan_recolour *change)
{
    const struct plan *plan = page->plan;
    const char *all = plan->make > 1 ? words_format(page, ", %s in %s",
                                                    words_grouped(page, change->saved_all),
                                                    words_pieces(page))
                                     : "";

    return words_format(page, "%s changed%s, %s fewer in %s piece%s",
                        words_count(page, change->ncells, "stitch", "stitches"),
                        band->repeats > 1 ? " a repeat" : "",
                        words_count(page, change->saved_piece, "catch", "catches"),
                        plan->make > 1 ? "each" : "the", all);
}

static const char *behind(const struct page *page, const struct plan_recolour *change)
{
    if (change->behind_sts < 2)
        return "";
    return words_format(page, " %s then floats behind %s there.",
                        words_yarn(page, change->cells[0].was),
                        words_count(page, change->behind_sts, "stitch", "stitches"));
}

const char *words_recolour(const struct page *page, const struct plan_band *band,
                           const struct plan_recolour *change)
{
    return words_format(page, "%s: %s.%s", change_words(page, band, change),
                        words_recolour_saving(page, band, change), behind(page, change));
}

const char *words_recolour_pair(const struct page *page, const struct plan_band *band)
{
    const struct plan_recolours *recolours = &band->recolours;

    return words_format(page, "%s of two: %s: %s.%s",
                        recolours->pair_certain ? "Most" : "Most we found",
                        pair_words(page, &recolours->pair), words_recolour_saving(page, band, &recolours->pair),
                        behind(page, &recolours->pair));
}
