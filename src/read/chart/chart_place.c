/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * From a stitch of a chart back to where it is written.
 */
#include "base/work.h"
#include "chart.h"
#include "chart_parts.h"

/* Bytes of a mark between blanks and bars; 0: none stands there. */
static size_t mark_bytes(const char *at)
{
    if (*at == ' ' || *at == '\t' || *at == '|')
        return 0;
    return at[0] == '\xc2' && at[1] == '\xa0' ? 0 : chart_char_bytes(*at);
}

/* The how-many-th mark from the left, sides and repeat together. */
static const char *mark_at(const struct chart_line *line, int number)
{
    for (const char *at = line->from; at < line->to; at += chart_char_bytes(*at))
        if (mark_bytes(at) > 0 && number-- == 0)
            return at;
    return line->from;
}

struct place chart_place(const struct chart *chart, int row, int column)
{
    struct place place;
    const char *at;
    size_t length;

    for (int i = 0; i < chart->nbeside; i++) {
        if (column < chart->beside[i]->repeat.ncols)
            return chart_place(chart->beside[i], row, column);
        column -= chart->beside[i]->repeat.ncols;
    }
    if (!chart->written)
        return chart->at;
    place = (struct place){chart->written->source, chart->written->row[row].line, 1, 1};
    at = mark_at(&chart->written->row[row],
                 chart->left.ncols + chart->repeat.ncols - 1 - column);
    for (const char *p = source_line(place.source, place.line, &length); p < at; p += chart_char_bytes(*p))
        place.column++;
    return place;
}
