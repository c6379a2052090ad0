/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What her measurements are called in a message: in the plan no line stands beside it.
 */
#include "loop_parts.h"

#include "base/arena.h"
#include "base/text.h"

static bool is_entry(const struct swatch *swatch, enum loop_method method, int i)
{
    switch (method) {
    case LOOP_FROM_TWO_YARNS:
    case LOOP_FROM_PLAIN_ROW:
        return swatch->unravelled[i].given;
    case LOOP_FROM_MARKED:
        return swatch->marked[i].given;
    case LOOP_FROM_WEIGHT:
        return swatch->weight[i].given;
    case LOOP_FROM_BALL:
        return swatch->weighed[i].given;
    case LOOP_FROM_SEVERAL:
    case LOOP_FROM_GAUGE:
        break;
    }
    return false;
}

/* "2nd ", where it is not the only one of its key. */
static const char *which(const struct observed *from)
{
    static const char *const words[SWATCH_TIMES_MAX] = {"1st ", "2nd ", "3rd ", "4th ", "5th ",
                                                        "6th ", "7th ", "8th ", "9th "};
    int n = 0;

    for (int i = 0; i < SWATCH_TIMES_MAX; i++)
        n += is_entry(from->swatch, from->method, i);
    return n > 1 ? words[from->nth - 1] : "";
}

const char *measured_name(const struct measured *all, int observation)
{
    const struct project *project = all->builder->project;
    const struct observed *from = &all->from[observation];
    struct text name = text_create(all->builder->work->arena);

    if (from->method == LOOP_FROM_TWO_YARNS)
        text_addf(&name, "the %s of ", project->yarns[from->yarn].name);
    text_addf(&name, "the %s", which(from));
    if (from->method == LOOP_FROM_BALL)
        text_addf(&name, "ball of %s weighed", project->yarns[from->yarn].name);
    else
        text_add(&name, from->method == LOOP_FROM_MARKED   ? "marked length"
                        : from->method == LOOP_FROM_WEIGHT ? "swatch weight"
                                                           : "row unravelled");
    if (from->swatch == &project->swatch_plain)
        text_add(&name, " of the plain swatch");
    text_addf(&name, " (line %d)", from->at.line);
    return name.bytes;
}

bool measured_by(const struct measured *all, bool tape)
{
    for (int i = 0; i < all->count; i++)
        if (all->list[i].by_tape == tape)
            return true;
    return false;
}

const char *measured_kind(const struct measured *all, bool tape)
{
    int entries = 0, marked = 0, line = 0;

    for (int i = 0; i < all->count; i++) {
        if (all->list[i].by_tape != tape || all->from[i].at.line == line)
            continue;
        line = all->from[i].at.line;
        entries++;
        marked += all->from[i].method == LOOP_FROM_MARKED;
    }
    if (entries == 1)
        return arena_printf(all->builder->work->arena, "%s (line %d)",
                            !tape ? "weighing" : marked ? "marked length" : "row", line);
    return !tape              ? "weighings"
           : marked == 0       ? "rows"
           : marked == entries ? "marked lengths"
                               : "rows and marked lengths";
}

const char *measured_typed(const struct measured *all, struct place at)
{
    struct arena *arena = all->builder->work->arena;
    size_t length, from = 0, to;
    const char *line = source_line(at.source, at.line, &length);

    for (int i = 1; i < at.column && from < length; i++)
        from += text_character(line + from, length - from, NULL);
    to = from;
    for (int i = 0; i < at.width && to < length; i++)
        to += text_character(line + to, length - to, NULL);
    return arena_strndup(arena, line + from, to - from);
}
