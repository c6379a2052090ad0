/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "base/arena.h"
#include "base/text.h"
#include "base/work.h"
#include "project_reader.h"

char reader_small(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

bool reader_same(const char *a, const char *b)
{
    for (; *a && reader_small(*a) == reader_small(*b); a++)
        b++;
    return *a == *b;
}

static bool is_blank(char c)
{
    return c == ' ' || c == '\t';
}

struct slice slice_part(struct slice slice, size_t from, size_t to)
{
    const char *value = slice.entry->value;

    while (from < to && is_blank(value[from]))
        from++;
    while (from < to && is_blank(value[to - 1]))
        to--;
    slice.from = from;
    slice.to = to;
    return slice;
}

bool reader_slice(const struct reader *reader, const char *key, struct slice *slice,
                  struct place *at)
{
    const struct ini_entry *entry =
        reader->section < 0 ? NULL : ini_find(reader->ini, reader->section, key);

    *at = entry ? entry->at : reader_place(reader);
    if (!entry || !entry->value)
        return false;
    slice->entry = entry;
    slice->key = key_facts_find(reader->kind, key);
    *slice = slice_part(*slice, 0, strlen(entry->value));
    if (slice_length(slice) > 0)
        return true;
    diag_add(reader->work->diagnostics, DIAG_VALUE_EMPTY, entry->at,
             "There are only blanks between the quotes.", slice_example(reader, slice));
    return false;
}

const char *slice_text(const struct slice *slice)
{
    return slice->entry->value + slice->from;
}

size_t slice_length(const struct slice *slice)
{
    return slice->to - slice->from;
}

struct place slice_place(const struct slice *slice)
{
    return ini_value_place(slice->entry, slice->from, slice_length(slice));
}

const char *slice_seen(const struct reader *reader, const struct slice *slice)
{
    enum { CHARACTERS_SHOWN = 40 };
    const char *text = slice_text(slice);
    size_t length = slice_length(slice), end = 0;
    int n = 0;

    for (; end < length; end++) {
        n += ((unsigned char)text[end] & 0xC0) != 0x80;
        if (n > CHARACTERS_SHOWN)
            break;
    }
    return arena_printf(reader->work->arena, "%.*s%s", (int)end, text, end < length ? "..." : "");
}

const char *slice_words(const struct reader *reader, const struct slice *slice)
{
    const char *text = slice_text(slice);
    size_t length = slice_length(slice), n = 0;
    char *words = arena_alloc(reader->work->arena, length + 1, 1);

    for (size_t i = 0; i < length; i++)
        if (!is_blank(text[i]))
            words[n++] = text[i];
        else if (i > 0 && !is_blank(text[i - 1]))
            words[n++] = ' ';
    return words;
}

size_t slice_find(const struct slice *slice, char mark)
{
    const char *found = memchr(slice_text(slice), mark, slice_length(slice));

    return found ? (size_t)(found - slice->entry->value) : slice->to;
}

size_t slice_find_comma(const struct slice *slice)
{
    const char *value = slice->entry->value;

    for (size_t i = slice->from; i + 1 < slice->to; i++)
        if (value[i] == ',' && is_blank(value[i + 1]))
            return i;
    return slice->to;
}

size_t slice_find_word(const struct slice *slice, const char *word)
{
    const char *value = slice->entry->value;
    size_t length = strlen(word);

    for (size_t at = slice->from; at + length <= slice->to; at++) {
        size_t k = 0;
        char before = at > slice->from ? reader_small(value[at - 1]) : ' ';
        char after = at + length < slice->to ? reader_small(value[at + length]) : ' ';

        while (k < length && reader_small(value[at + k]) == word[k])
            k++;
        if (k == length && !(before >= 'a' && before <= 'z') && !(after >= 'a' && after <= 'z'))
            return at;
    }
    return slice->to;
}

bool slice_fault(const struct reader *reader, const struct slice *slice, enum diag_code code,
                 const char *what, const char *todo)
{
    diag_add(reader->work->diagnostics, code, slice_place(slice), what, todo);
    return false;
}

const char *slice_example(const struct reader *reader, const struct slice *slice)
{
    return arena_printf(reader->work->arena, "Write it like this: %s = %s.", slice->key->key,
                        reader_units(reader, slice->key->example, false));
}

/* --- ranges and examples, which stand in inches in keys.h --------------------------- */

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
