/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/text.h"
#include "base/work.h"
#include "project_reader.h"

/* --- words and marks ---------------------------------------------------------------- */

/* What keys.h says of the key where nothing is said. */
static const char *fallback_of(const struct reader *reader, const char *key)
{
    return key_facts_find(reader->kind, key)->fallback;
}

struct given_text reader_text(struct reader *reader, const char *key)
{
    struct slice slice;
    struct given_text out = {.text = NULL};

    if (reader_slice(reader, key, &slice, &out.at))
        out.text = slice_words(reader, &slice);
    return out;
}

/* Seen on its own, and taking a place of its own: no controls, no white space of any kind,
 * no accents that sit on the letter before. */
static bool is_visible(uint32_t code)
{
    static const struct {
        uint32_t from, to;
    } hidden[] = {{0, 0x20},        {0x7F, 0xA0},       {0xAD, 0xAD},     {0x300, 0x36F},
                  {0x1680, 0x1680}, {0x2000, 0x200F},   {0x2028, 0x202F}, {0x205F, 0x206F},
                  {0x3000, 0x3000}, {0xD800, 0xF8FF},   {0xFE00, 0xFE0F}, {0xFEFF, 0xFEFF},
                  {0xFFF0, 0xFFFF}, {0xE0000, 0x10FFFF}};

    for (size_t i = 0; i < sizeof hidden / sizeof hidden[0]; i++)
        if (code >= hidden[i].from && code <= hidden[i].to)
            return false;
    return true;
}

struct given_text reader_mark(struct reader *reader, const char *key)
{
    const char *fallback = fallback_of(reader, key);
    struct slice slice;
    struct given_text out = {.text = fallback[1] == '\0' ? fallback : NULL};
    uint32_t code = 0;
    size_t length;

    if (!reader_slice(reader, key, &slice, &out.at))
        return out;
    length = slice_length(&slice);
    if (text_character(slice_text(&slice), length, &code) != length) {
        slice_fault(reader, &slice, DIAG_MARK_FORM,
                    arena_printf(reader->work->arena, "\"%s\" is not one mark.",
                                 slice_seen(reader, &slice)),
                    "Choose a single letter or sign, like . or x.");
        return out;
    }
    if (!is_visible(code) || code == ';' || code == '|') {
        slice_fault(reader, &slice, DIAG_MARK_FORM,
                    code == ';'   ? "A ; cannot be a mark: it starts a remark."
                    : code == '|' ? "A | cannot be a mark: it sets off side stitches."
                                  : "This mark cannot be seen in a chart.",
                    "Choose another letter or sign, like . or x.");
        return out;
    }
    out.text = slice_words(reader, &slice);
    return out;
}

/* --- choices ------------------------------------------------------------------------ */

enum { CHOICES_MAX = 8 };

/* "round | flat" taken apart; how many there are. */
static int choices_of(const struct reader *reader, const char *form, const char *words[CHOICES_MAX])
{
    int n = 0;

    while (n < CHOICES_MAX) {
        const char *bar = strstr(form, " | ");
        size_t length = bar ? (size_t)(bar - form) : strlen(form);

        words[n++] = arena_strndup(reader->work->arena, form, length);
        if (!bar)
            break;
        form = bar + 3;
    }
    return n;
}

int slice_choice(const struct reader *reader, const struct slice *slice, const char *const *words,
                 int n)
{
    const char *seen = slice_words(reader, slice);

    for (int i = 0; i < n; i++)
        if (reader_same(seen, words[i]))
            return i;
    return -1;
}

void slice_choice_fault(const struct reader *reader, const struct slice *slice,
                        const char *const *words, int n)
{
    const char *near = text_nearest(slice_words(reader, slice), words, n);
    struct text todo = text_create(reader->work->arena);

    if (near)
        text_addf(&todo, "Did you mean %s = %s?", slice->key->key, near);
    for (int i = 0; i < n && !near; i++)
        text_addf(&todo, "%s%s", i == 0 ? "Write " : i == n - 1 ? " or " : ", ", words[i]);
    if (!near)
        text_add(&todo, ".");
    slice_fault(reader, slice, DIAG_VALUE_CHOICE,
                arena_printf(reader->work->arena, "\"%s\" is not one of the choices for \"%s\".",
                             slice_seen(reader, slice), slice->key->key),
                todo.bytes);
}

/* Other ways to say a choice that leave no doubt. */
static const char *const also_said[][2] = {{"inches", "in"},       {"inch", "in"},
                                           {"centimetres", "cm"},  {"centimeters", "cm"},
                                           {"in rounds", "round"}, {"in the round", "round"},
                                           {"in rows", "flat"},    {"long-tail", "long tail"}};

struct given_choice reader_choice(struct reader *reader, const char *key)
{
    const struct key_facts *facts = key_facts_find(reader->kind, key);
    struct slice slice;
    struct given_choice out = {.value = -1};
    const char *words[CHOICES_MAX], *seen;
    int n = choices_of(reader, facts->form, words), found;

    for (int i = 0; i < n; i++)
        if (strcmp(words[i], facts->fallback) == 0)
            out.value = i;
    if (!reader_slice(reader, key, &slice, &out.at))
        return out;
    found = slice_choice(reader, &slice, words, n);
    seen = slice_words(reader, &slice);
    for (size_t k = 0; k < sizeof also_said / sizeof also_said[0] && found < 0; k++)
        for (int i = 0; i < n; i++)
            if (reader_same(seen, also_said[k][0]) && strcmp(words[i], also_said[k][1]) == 0)
                found = i;
    if (found < 0) {
        slice_choice_fault(reader, &slice, words, n);
        return out;
    }
    out.said = true;
    out.value = found;
    return out;
}

struct given_choice reader_yes(struct reader *reader, const char *key)
{
    struct given_choice out = reader_choice(reader, key);

    out.value = out.value == 0;
    return out;
}

/* --- numbers ------------------------------------------------------------------------ */

struct given_whole reader_whole(struct reader *reader, const char *key, enum unit unit)
{
    struct slice slice;
    struct given_whole out = {.value = (int)strtol(fallback_of(reader, key), NULL, 10)}; /* words: 0 */

    if (reader_slice(reader, key, &slice, &out.at))
        out.said = slice_whole(reader, &slice, unit, &out.value);
    return out;
}

struct given_length reader_length(struct reader *reader, const char *key)
{
    struct slice slice;
    struct given_length out = {.in = rational_none()};
    struct rational inches;

    if (reader_slice(reader, key, &slice, &out.at) &&
        slice_inches(reader, &slice, slice.key->range, &inches))
        out.in = inches;
    return out;
}

/* A needle of 4 is 4 mm to one knitter and a US 4 to another, and never 4 inches. */
struct given_length reader_needle(struct reader *reader, const char *key)
{
    struct slice slice;
    struct given_length out = {.in = rational_none()};
    struct quantity quantity;
    size_t fault_at;

    if (reader_slice(reader, key, &slice, &out.at) &&
        quantity_read(slice_text(&slice), slice_length(&slice), &quantity, &fault_at) ==
            NUMBER_OK &&
        quantity.unit == UNIT_NONE) {
        slice_fault(reader, &slice, DIAG_VALUE_UNIT,
                    arena_printf(reader->work->arena,
                                 "\"%s\" could be millimetres or a needle number.",
                                 slice_seen(reader, &slice)),
                    slice_example(reader, &slice));
        return out;
    }
    return reader_length(reader, key);
}

struct given_ratio reader_ratio(struct reader *reader, const char *key)
{
    struct slice slice;
    struct given_ratio out = {.ratio = rational_none()};
    struct rational ratio;

    if (reader_slice(reader, key, &slice, &out.at) && slice_ratio(reader, &slice, &ratio))
        out.ratio = ratio;
    return out;
}

struct given_ease reader_ease(struct reader *reader, const char *key)
{
    struct slice slice;
    struct given_ease out = {.value = rational_none()};
    struct quantity quantity;

    if (!reader_slice(reader, key, &slice, &out.at) || !slice_quantity(reader, &slice, &quantity))
        return out;
    if (quantity.unit == UNIT_NONE && quantity.value.num != 0) {
        const char *seen = slice_seen(reader, &slice);

        slice_fault(
            reader, &slice, DIAG_VALUE_UNIT,
            arena_printf(reader->work->arena, "\"%s\" could be per cent or a length.", seen),
            arena_printf(reader->work->arena, "Write %s = %s %% or %s = %s %s.", key, seen, key, seen,
                         reader->project->units.value == UNIT_CM ? "cm" : "in"));
        return out;
    }
    out.is_ratio = quantity.unit == UNIT_PERCENT;
    if (!(out.is_ratio ? slice_ratio(reader, &slice, &out.value)
                       : slice_inches(reader, &slice, slice.key->range, &out.value)))
        out.value = rational_none();
    return out;
}

/* --- yarns -------------------------------------------------------------------------- */

struct given_yarn reader_no_yarn(const struct reader *reader)
{
    return (struct given_yarn){.index = -1, .at = reader_place(reader)};
}

struct given_yarn slice_yarn(const struct reader *reader, const struct slice *slice)
{
    const char *name = slice_words(reader, slice);

    return (struct given_yarn){.index = project_yarn_find(reader->project, name),
                               .name = name,
                               .at = slice_place(slice)};
}

struct given_yarn reader_yarn(struct reader *reader, const char *key)
{
    struct slice slice;
    struct given_yarn out = reader_no_yarn(reader);

    if (!reader_slice(reader, key, &slice, &out.at))
        return out;
    return slice_yarn(reader, &slice);
}
