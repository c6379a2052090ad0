/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The report as pages of text. It is the report itself, laid out at 80 columns, in a face whose
 * letters are all as wide; only where a page ends is decided here.
 */
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "parts.h"
#include "render/report/report.h"

static const double SIZE_MM = 3.55;         /* 10 points */
static const double LEFT_MM = 12.0;         /* room for the holes of a binder */
static const double LETTER_WIDE = 0.60205;  /* of DejaVu Sans Mono, by its own table */
enum {
    BREAK_WITHIN = 20, /* lines a page may be left short by, for a better break */
    KEPT_BELOW = 3,    /* lines a heading keeps below it */
    TABLE_MOST = 16    /* lines of a table above its total that are kept with it */
};

struct words_line {
    const char *words;
    const char *bold; /* its head, set bold; "" or all of it */
    int indent;
    bool blank;
};

struct words_lines {
    struct words_line *line;
    int count;
};

/* --- reading the report's lines -------------------------------------------------------- */

static const char BOLD_ON[] = "\033[1m", BOLD_OFF[] = "\033[0m";

static bool takes(const char **at, const char *mark)
{
    size_t length = strlen(mark);

    if (strncmp(*at, mark, length) != 0)
        return false;
    *at += length;
    return true;
}

/* One line from *at on; bold: whether it goes on in bold from the line before. */
static struct words_line read_line(struct work *work, const char **at, bool *bold)
{
    struct text head = text_create(work->arena), rest = text_create(work->arena);
    struct words_line line = {.words = "", .bold = "", .blank = true};

    while (**at && **at != '\n') {
        if (takes(at, BOLD_ON)) {
            *bold = true;
        } else if (takes(at, BOLD_OFF)) {
            *bold = false;
        } else {
            line.indent += line.blank && **at == ' ';
            line.blank = line.blank && **at == ' ';
            text_add_bytes(*bold ? &head : &rest, *at, 1);
            (*at)++;
        }
    }
    *at += **at == '\n';
    line.words = rest.bytes;
    line.bold = head.bytes;
    return line;
}

static struct words_lines read_lines(struct work *work, const char *text)
{
    struct words_lines lines = {NULL, 0};
    size_t room = 1;
    bool bold = false;

    for (const char *at = text; *at; at++)
        room += *at == '\n';
    lines.line = arena_alloc(work->arena, room, sizeof *lines.line);
    while (*text)
        lines.line[lines.count++] = read_line(work, &text, &bold);
    return lines;
}

/* --- where a page ends ----------------------------------------------------------------- */

/* A heading stands so close above that it would be parted from its first lines. */
static bool parts_heading(const struct words_lines *lines, int at)
{
    for (int i = at - 1; i >= 0 && at - i <= KEPT_BELOW && !lines->line[i].blank; i--)
        if (*lines->line[i].bold)
            return true;
    return false;
}

/* The line goes on the one before it: it hangs further in, or as far as one that does. What stands
 * below a heading hangs below no words. */
static bool goes_on(const struct words_lines *lines, int at)
{
    int indent = lines->line[at].indent;

    if (lines->line[at].blank)
        return false;
    while (at > 0 && !lines->line[at - 1].blank && lines->line[at - 1].indent == indent)
        at--;
    return at > 0 && !lines->line[at - 1].blank && !*lines->line[at - 1].bold &&
           lines->line[at - 1].indent < indent;
}

static bool announces(const struct words_line *line)
{
    size_t length = strlen(line->words);

    return length > 0 && line->words[length - 1] == ':';
}

static bool is_blank(const struct words_lines *lines, int at)
{
    return at < 0 || at >= lines->count || lines->line[at].blank;
}

/* A line would stand alone, above or below: the head of a table, the end of a sentence. */
static bool leaves_one(const struct words_lines *lines, int at)
{
    return !is_blank(lines, at) && !is_blank(lines, at - 1) &&
           (is_blank(lines, at - 2) || is_blank(lines, at + 1));
}

static bool is_rule(const struct words_lines *lines, int at)
{
    const char *words = is_blank(lines, at) ? "" : lines->line[at].words + lines->line[at].indent;

    return strlen(words) > 4 && words[strspn(words, "- ")] == '\0';
}

/* The total below a ruled line would be parted from something it is the total of. */
static bool parts_total(const struct words_lines *lines, int at)
{
    if (is_blank(lines, at - 1))
        return false;
    for (int i = at - 1; !is_blank(lines, i) && i < at + TABLE_MOST; i++)
        if (is_rule(lines, i))
            return true;
    return false;
}

static bool may_break(const struct words_lines *lines, int at)
{
    return at == lines->count ||
           !(parts_heading(lines, at) || parts_total(lines, at) || leaves_one(lines, at) || goes_on(lines, at) ||
             (at > 0 && announces(&lines->line[at - 1])) ||
             (at > 1 && lines->line[at - 1].blank && announces(&lines->line[at - 2])));
}

/* First line of the next page. */
static int page_end(const struct words_lines *lines, int from, int nlines)
{
    int full = from + nlines < lines->count ? from + nlines : lines->count;

    for (int at = full; at > from && at > full - BREAK_WITHIN; at--)
        if (may_break(lines, at))
            return at;
    return full;
}

/* --- on the paper ---------------------------------------------------------------------- */

static void put_words(struct sheet *sheet, double x, double y, const char *words, bool bold)
{
    struct sheet_item *item;
    size_t indent = strspn(words, " ");

    if (!words[indent])
        return;
    words += indent;
    item = sheet_add_words(sheet, x + (double)indent * LETTER_WIDE * SIZE_MM, y, SIZE_MM, SHEET_START,
                           words);
    item->mono = true;
    item->bold = bold;
    item->room_mm = SHEET_PAGE_WIDTH_MM - item->x_mm;
}

static struct sheet *lay_out(struct pages *pages, const struct words_lines *lines, int from, int end)
{
    struct sheet *sheet = sheet_create(pages->page.work);
    double y = SIZE_MM;

    sheet->title = pages->title;
    for (int i = from; i < end; i++, y += type_leading_mm(SIZE_MM)) {
        const struct words_line *line = &lines->line[i];
        double bold_wide = text_columns(line->bold) * LETTER_WIDE * SIZE_MM;

        put_words(sheet, LEFT_MM, y, line->bold, true);
        put_words(sheet, LEFT_MM + bold_wide, y, line->words, false);
    }
    sheet->width_mm = SHEET_PAGE_WIDTH_MM;
    sheet->height_mm = SHEET_PAGE_HEIGHT_MM;
    return sheet;
}

void pages_add_words(struct pages *pages, unsigned leave_out)
{
    struct words_style style = *pages->page.style;
    struct text text = text_create(pages->page.work->arena);
    struct page page = {pages->page.work, pages->page.plan, &style, &text};
    int nlines = (int)((SHEET_PAGE_HEIGHT_MM - SIZE_MM) / type_leading_mm(SIZE_MM)), end;
    struct words_lines lines;

    style.colour = true; /* tells which words are bold */
    report_sections(&page, leave_out);
    lines = read_lines(pages->page.work, text.bytes);
    for (int from = 0; from < lines.count; from = end) {
        while (from < lines.count && lines.line[from].blank)
            from++;
        end = page_end(&lines, from, nlines);
        if (end > from)
            pages_add(pages, lay_out(pages, &lines, from, end));
    }
}
