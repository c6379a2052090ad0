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

enum { WHAT_AT = 2, WHAT_WIDE = 38, VALUE_TO = 59, STANDING_AT = 62 };

static const char *value_words(const struct page *page, const struct allowance *row)
{
    if (strcmp(row->unit, "in") == 0)
        return words_length(page, row->value);
    if (strcmp(row->unit, "ratio") == 0 && row->value < 1.0)
        return words_percent(page, row->value);
    if (strcmp(row->unit, "ratio") == 0)
        return words_format(page, "%s times", words_decimal(page, row->value, 3));
    if (strcmp(row->unit, "number") == 0)
        return words_decimal(page, row->value, 3);
    return words_format(page, "%s %s", words_decimal(page, row->value, 3), row->unit);
}

static const char *standing_words(const struct page *page, const struct allowance *row)
{
    if (strcmp(row->source, "none") == 0 || !*row->source)
        return row->standing;
    return words_format(page, "%s [%s]", row->standing, row->source);
}

static void put_basis(const struct page *page, const struct allowance *row)
{
    struct text folded = text_create(page->work->arena);
    struct text line = page_line(page);
    const char *end;

    text_wrap(&folded, row->what, 0, 2, WHAT_WIDE);
    end = strchr(folded.bytes, '\n');
    line_at(&line, WHAT_AT,
            end ? words_format(page, "%.*s", (int)(end - folded.bytes), folded.bytes)
                : folded.bytes);
    line_to(&line, VALUE_TO, value_words(page, row));
    line_at(&line, STANDING_AT, standing_words(page, row));
    page_put(page, &line);
    while (end) {
        const char *from = end + 1;

        end = strchr(from, '\n');
        line = page_line(page);
        line_at(&line, WHAT_AT,
                end ? words_format(page, "%.*s", (int)(end - from), from) : from);
        page_put(page, &line);
    }
}

void report_basis(const struct page *page)
{
    bool sources = false;

    if (page->plan->nbasis == 0)
        return;
    page_heading(page, "WHAT THE NUMBERS STAND ON", "besides your own");
    for (int i = 0; i < page->plan->nbasis; i++) {
        put_basis(page, page->plan->basis[i]);
        sources = sources || strcmp(page->plan->basis[i]->source, "none") != 0;
    }
    page_say(page, 2,
             words_format(page, "The whole table%s: strandwise tables allowances",
                          sources ? ", with the sources numbered here" : ""));
}
