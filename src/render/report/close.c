/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Cautions, and the rows of the tables the numbers stand on.
 */
#include <math.h>
#include <string.h>

#include "report.h"

static const char *bullet(const struct page *page)
{
    return page->style->utf8 ? "\u2022" : "-";
}

static void say(const struct page *page, const char *words)
{
    page_item(page, 2, bullet(page), words);
}

static bool said_at_head(const struct report_head *head, int note)
{
    for (int i = 0; i < head->count; i++)
        if (head->note[i] == note)
            return true;
    return false;
}

static void say_notes(const struct page *page)
{
    struct report_head head = report_head_pick(page);

    for (int i = 0; i < page->plan->nnotes; i++) {
        const struct diag *note = &page->plan->notes[i];

        if (note->code == DIAG_CHILD_LIMIT || said_at_head(&head, i))
            continue;
        say(page, words_set(page, words_format(page, "%s%s%s", note->what, note->todo ? " " : "",
                                               note->todo ? note->todo : "")));
    }
}

const char *const report_child_cautions[REPORT_CHILD_CAUTIONS] = {
    "Long or loose strands inside can catch small fingers and toes, and a strand drawn tight round "
    "one is a real injury: catch firmly or line the inside, and look it over after every wash.",
    "No cords or ties at the neck or hood of a child's things; sew buttons and beads on hard, and "
    "give none to under-threes. Nothing with loose strands belongs in a sleeping baby's cot.",
};

void report_cautions(const struct page *page)
{
    const struct plan *plan = page->plan;

    page_heading(page, "CAUTIONS", NULL);
    say_notes(page);
    for (int i = 0; plan->child && i < REPORT_CHILD_CAUTIONS; i++)
        say(page, report_child_cautions[i]);
    if (plan->piece.cast_on.steek_sts > 0)
        say(page, "Cut a steek only after it is reinforced; slippery or superwash yarn wants "
                  "machine stitching.");
    say(page, "These are estimates from your swatch, with strands that lie easy: knit a little, "
              "measure again, weigh the ball, and let your hands decide.");
    say(page, "Buy each colour in one dye lot and keep the bands. Soak a stranded swatch first if "
              "a yarn is dark or bright, and wash the piece as the swatch was washed.");
    say(page, "Where a pattern, the yarn's label or your local safety rules say otherwise, they "
              "come first.");
}

/* --- what the numbers stand on ------------------------------------------------------ */

static const char *value_words(const struct page *page, const struct allowance *row)
{
    if (strcmp(row->unit, "in") == 0)
        return words_length(page, row->value);
    if (strcmp(row->unit, "ratio") == 0 && row->value < 1.0)
        return words_percent(page, row->value);
    if (strcmp(row->unit, "ratio") == 0)
        return words_format(page, "%s" WORDS_TIE "times", words_decimal(page, row->value, 3));
    if (strcmp(row->unit, "number") == 0)
        return words_decimal(page, row->value, 3);
    return words_format(page, "%s" WORDS_TIE "%s", words_decimal(page, row->value, 3), row->unit);
}

static const char *standing_words(const struct page *page, const struct allowance *row)
{
    if (strcmp(row->source, "none") == 0 || !*row->source)
        return row->standing;
    return words_format(page, "%s [%s]", row->standing, row->source);
}

static bool stand_alike(const struct allowance *a, const struct allowance *b)
{
    return strcmp(a->standing, b->standing) == 0 && strcmp(a->source, b->source) == 0;
}

static bool is_told(const struct page *page, int row)
{
    for (int i = 0; i < row; i++)
        if (stand_alike(page->plan->basis[i], page->plan->basis[row]))
            return true;
    return false;
}

/* All rows of one standing and source: "Judgement: 2 %: how far a count in one place may be out; ..." */
static void put_alike(const struct page *page, int first)
{
    const struct allowance *const *basis = page->plan->basis;
    struct text text = text_create(page->work->arena);
    const char *standing = standing_words(page, basis[first]);

    text_addf(&text, "%c%s. ", *standing - 'a' + 'A', standing + 1);
    for (int i = first; i < page->plan->nbasis; i++)
        if (stand_alike(basis[i], basis[first]))
            text_addf(&text, "%s%s: %s", i == first ? "" : "; ", value_words(page, basis[i]),
                      basis[i]->what);
    page_item(page, 2, bullet(page), words_format(page, "%s.", text.bytes));
}

void report_basis(const struct page *page)
{
    bool sources = false;

    if (page->plan->nbasis == 0)
        return;
    page_heading(page, "WHAT THE NUMBERS STAND ON", "besides your own");
    for (int i = 0; i < page->plan->nbasis; i++) {
        if (!is_told(page, i))
            put_alike(page, i);
        sources = sources || strcmp(page->plan->basis[i]->source, "none") != 0;
    }
    page_sayf(page, 2, "The whole table%s: strandwise tables allowances",
              sources ? ", with the sources numbered here" : "");
}
