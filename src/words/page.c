/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdarg.h>
#include <string.h>

#include "base/arena.h"
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

void page_sayf(const struct page *page, int indent, const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    page_say(page, indent, arena_vprintf(page->work->arena, format, arguments));
    va_end(arguments);
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

void page_bulletf(const struct page *page, int indent, const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    page_item(page, indent, page->style->utf8 ? "\u2022" : "-",
              arena_vprintf(page->work->arena, format, arguments));
    va_end(arguments);
}

void page_entry(const struct page *page, const char *label, const char *words)
{
    enum { LABEL_AT = 2, WORDS_AT = 16 };

    add_hanging(page, LABEL_AT, label, WORDS_AT, words);
}

void page_entryf(const struct page *page, const char *label, const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    page_entry(page, label, arena_vprintf(page->work->arena, format, arguments));
    va_end(arguments);
}

void page_cells(const struct page *page, const struct page_column *columns, const char *const *cells, size_t n)
{
    size_t from = page->out->length;
    int filled = 0;

    for (size_t i = 0; i < n; i++) {
        int wide = text_columns(cells[i]);
        int at = columns[i].right > 0 ? columns[i].right - wide : columns[i].left;

        if (wide == 0)
            continue;
        if (filled > 0 && at <= filled)
            at = filled + 1;
        text_repeat(page->out, ' ', at - filled);
        text_add(page->out, cells[i]);
        filled = (at > filled ? at : filled) + wide;
    }
    text_add(page->out, "\n");
    untie(page->out->bytes + from);
}
