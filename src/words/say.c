/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say.h"

#include <inttypes.h>

#include "base/arena.h"

static const double CM_PER_IN = 2.54, MM_PER_IN = 25.4; /* exact by definition */

const char *say_decimal(struct arena *arena, double value, int decimals)
{
    struct text text = text_create(arena);

    text_decimal(&text, value, decimals);
    return text.bytes;
}

const char *say_grouped(struct arena *arena, int64_t value)
{
    struct text text = text_create(arena);

    text_grouped(&text, (long)value);
    return text.bytes;
}

const char *say_both(struct arena *arena, bool cm_first, const char *in, const char *in_unit,
                     const char *metric, const char *metric_unit)
{
    return cm_first ? arena_printf(arena, "%s %s (%s %s)", metric, metric_unit, in, in_unit)
                    : arena_printf(arena, "%s %s (%s %s)", in, in_unit, metric, metric_unit);
}

const char *say_length(struct arena *arena, double inches, bool cm_first)
{
    struct text ruler = text_create(arena);

    text_eighths(&ruler, inches);
    return say_both(arena, cm_first, ruler.bytes, "in", say_decimal(arena, inches * CM_PER_IN, 1), "cm");
}

const char *say_fine_length(struct arena *arena, double mm, bool cm_first)
{
    return say_both(arena, cm_first, say_decimal(arena, mm / MM_PER_IN, 3), "in", say_decimal(arena, mm, 1),
                    "mm");
}

const char *say_gauge(struct arena *arena, double per_in, int cm_decimals, bool cm_first)
{
    const char *in = say_decimal(arena, per_in, 2);
    const char *cm = say_decimal(arena, per_in * 10 / CM_PER_IN, cm_decimals);

    return cm_first ? arena_printf(arena, "%s stitches to 10 cm (%s to the inch)", cm, in)
                    : arena_printf(arena, "%s stitches to the inch (%s to 10 cm)", in, cm);
}

const char *say_count(struct arena *arena, int64_t n, const char *one, const char *many)
{
    return arena_printf(arena, "%" PRId64 " %s", n, n == 1 ? one : many);
}

const char *say_stitches(struct arena *arena, int64_t n)
{
    return say_count(arena, n, "stitch", "stitches");
}

const char *say_link(int i, int n)
{
    return i == 0 ? "" : i == n - 1 ? " and " : ", ";
}

const char *say_list(struct arena *arena, const char *const *names, int n)
{
    struct text text = text_create(arena);

    for (int i = 0; i < n; i++) {
        text_add(&text, say_link(i, n));
        text_add(&text, names[i]);
    }
    return text.bytes;
}

const struct say_rounds *say_rounds(bool round)
{
    static const struct say_rounds words[] = {{"row", "rows", "Row", "Rows"},
                                              {"round", "rounds", "Round", "Rounds"}};

    return &words[round];
}

const char *say_rounds_count(struct arena *arena, int64_t n, bool round)
{
    return say_count(arena, n, say_rounds(round)->one, say_rounds(round)->many);
}
