/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Ranges and examples stand in inches in keys.h: what is said of them in a project of centimetres.
 */
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "base/text.h"
#include "base/work.h"
#include "project_reader.h"

static bool is_small_letter(char c)
{
    return c >= 'a' && c <= 'z';
}

/* "in" as a unit, and not the word: at the end, or before a comma or "to". Returned: its length with the
 * blanks before it; 0: none. */
static size_t unit_length(const char *text)
{
    size_t blanks = strspn(text, " "), after;

    if (strncmp(text + blanks, "in", 2) != 0 || is_small_letter(text[blanks + 2]))
        return 0;
    after = blanks + 2 + strspn(text + blanks + 2, " ");
    return !is_small_letter(text[after]) || strncmp(text + after, "to ", 3) == 0 ? blanks + 2 : 0;
}

static void add_cm(struct text *text, struct rational inches, bool exact)
{
    const double cm_per_in = 2.54, large_cm = 10.0;
    double cm = rational_double(inches) * cm_per_in;

    if (!exact)
        cm = cm >= large_cm ? round(cm) : fmax(round(2.0 * cm) / 2.0, 0.5);
    text_decimal(text, cm, 2);
    text_add(text, " cm");
}

const char *reader_units(const struct reader *reader, const char *words, bool exact)
{
    struct text text = text_create(reader->work->arena);
    bool in_word = false;

    if (reader->project->units.value != UNIT_CM)
        return words;
    for (const char *at = words; *at != '\0';) {
        struct rational number;
        size_t used = 0, unit = 0;
        bool starts = (*at >= '0' && *at <= '9') || (*at == '-' && at[1] >= '0' && at[1] <= '9');

        if (!in_word && starts && number_read(at, strlen(at), &number, &used) == NUMBER_OK)
            unit = unit_length(at + used);
        if (unit > 0) {
            add_cm(&text, number, exact);
            at += used + unit;
            continue;
        }
        in_word = *at != ' ' && *at != ',';
        text_addf(&text, "%c", *at++);
    }
    return text.bytes;
}
