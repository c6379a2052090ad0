/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "words.h"

void page_gap(const struct page *page)
{
    text_add(page->out, "\n");
}

static void untie(char *from)
{
    for (; (from = strchr(from, *WORDS_TIE)) != NULL; from++)
        *from = ' ';
}

void page_wrap(const struct page *page, const char *words, int start_column, int indent)
{
    size_t from = page->out->length;

    text_wrap(page->out, words, start_column, indent, page->style->width);
    untie(page->out->bytes + (from < page->out->length ? from : page->out->length));
}

void page_heading(const struct page *page, const char *heading, const char *aside)
{
    page_gap(page);
    text_add(page->out, page->style->colour ? "\033[1m" : "");
    text_add(page->out, heading);
    text_add(page->out, page->style->colour ? "\033[0m" : "");
    if (aside && *aside) {
        text_add(page->out, "  ");
        page_wrap(page, aside, text_columns(heading) + 2, 2);
    }
    text_add(page->out, "\n");
}

void page_say(const struct page *page, int indent, const char *words)
{
    text_repeat(page->out, ' ', indent);
    page_wrap(page, words, indent, indent);
    text_add(page->out, "\n");
}

static void add_hanging(const struct page *page, int indent, const char *mark, int hang,
                        const char *words)
{
    int column = indent + text_columns(mark);

    text_repeat(page->out, ' ', indent);
    page_wrap(page, mark, indent, indent);
    text_repeat(page->out, ' ', column < hang ? hang - column : 1);
    page_wrap(page, words, column < hang ? hang : column + 1, hang);
    text_add(page->out, "\n");
}

void page_item(const struct page *page, int indent, const char *mark, const char *words)
{
    add_hanging(page, indent, mark, indent + text_columns(mark) + 1, words);
}

void page_entry(const struct page *page, const char *label, const char *words)
{
    enum { LABEL_AT = 2, WORDS_AT = 16 };

    add_hanging(page, LABEL_AT, label, WORDS_AT, words);
}

struct text page_line(const struct page *page)
{
    return text_create(page->work->arena);
}

/* Two cells never run into each other: one blank at least between them. */
static void pad(struct text *line, int column)
{
    int at = text_columns(line->bytes);

    if (at > 0 && column <= at)
        column = at + 1;
    text_repeat(line, ' ', column - at);
}

void line_at(struct text *line, int column, const char *words)
{
    if (!*words)
        return;
    pad(line, column);
    text_add(line, words);
}

void line_to(struct text *line, int column, const char *words)
{
    line_at(line, column - text_columns(words), words);
}

void page_put(const struct page *page, struct text *line)
{
    untie(line->bytes);
    text_add(page->out, line->bytes);
    text_add(page->out, "\n");
}
