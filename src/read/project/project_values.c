/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A section read by the list of its keys; values of the plainer forms.
 */
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/tables.h"
#include "base/text.h"
#include "base/work.h"
#include "project_reader.h"

/* --- words and marks ---------------------------------------------------------------- */

bool form_text(const struct reader *reader, struct slice slice, void *value)
{
    struct given_text *out = value;

    out->text = slice_words(reader, &slice);
    return true;
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

bool form_mark(const struct reader *reader, struct slice slice, void *value)
{
    struct given_text *out = value;
    size_t length = slice_length(&slice);
    uint32_t code = 0;

    if (text_character(slice_text(&slice), length, &code) != length)
        return slice_fault(reader, &slice, DIAG_MARK_FORM,
                           arena_printf(reader->work->arena, "\"%s\" is not one mark.",
                                        slice_seen(reader, &slice)),
                           "Choose a single letter or sign, like . or x.");
    if (!is_visible(code) || code == ';' || code == '|')
        return slice_fault(reader, &slice, DIAG_MARK_FORM,
                           code == ';'   ? "A ; cannot be a mark: it starts a remark."
                           : code == '|' ? "A | cannot be a mark: it sets off side stitches."
                                         : "This mark cannot be seen in a chart.",
                           "Choose another letter or sign, like . or x.");
    out->text = slice_words(reader, &slice);
    return true;
}

bool form_shade(const struct reader *reader, struct slice slice, void *value)
{
    struct given_text *out = value;
    struct yarn *yarn = reader->home;

    out->text = slice_words(reader, &slice);
    if (tables_shade(reader->work->tables, out->text, yarn->rgb))
        return true;
    diag_add(reader->work->diagnostics, DIAG_VALUE_FORM, out->at,
             arena_printf(reader->work->arena, "\"%s\" is no colour known here.", out->text),
             "Write a colour's name, like ivory, or # and six digits or letters a to f, like "
             "#f3ead7.");
    return false;
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

bool slice_choice_fault(const struct reader *reader, const struct slice *slice,
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
    return slice_fault(reader, slice, DIAG_VALUE_CHOICE,
                       arena_printf(reader->work->arena, "\"%s\" is not one of the choices for \"%s\".",
                                    slice_seen(reader, slice), slice->key->key),
                       todo.bytes);
}

/* Other ways to say a choice that leave no doubt. */
static const char *const also_said[][2] = {{"inches", "in"},       {"inch", "in"},
                                           {"centimetres", "cm"},  {"centimeters", "cm"},
                                           {"in rounds", "round"}, {"in the round", "round"},
                                           {"in rows", "flat"},    {"long-tail", "long tail"}};

static int choice_default(const struct reader *reader, const struct key_facts *key)
{
    const char *words[CHOICES_MAX];

    for (int i = choices_of(reader, key->words, words) - 1; i >= 0; i--)
        if (strcmp(words[i], key->fallback) == 0)
            return i;
    return -1;
}

bool form_choice(const struct reader *reader, struct slice slice, void *value)
{
    struct given_choice *out = value;
    const char *words[CHOICES_MAX], *seen = slice_words(reader, &slice);
    int n = choices_of(reader, slice.key->words, words);
    int found = slice_choice(reader, &slice, words, n);

    for (size_t k = 0; k < sizeof also_said / sizeof also_said[0] && found < 0; k++)
        for (int i = 0; i < n; i++)
            if (reader_same(seen, also_said[k][0]) && strcmp(words[i], also_said[k][1]) == 0)
                found = i;
    if (found < 0)
        slice_choice_fault(reader, &slice, words, n);
    out->said = found >= 0;
    out->value = found;
    return out->said;
}

bool form_yes(const struct reader *reader, struct slice slice, void *value)
{
    struct given_choice *out = value;
    bool fine = form_choice(reader, slice, value);

    out->value = out->value == 0;
    return fine;
}

/* --- numbers ------------------------------------------------------------------------ */

bool form_whole(const struct reader *reader, struct slice slice, void *value)
{
    struct given_whole *out = value;
    enum unit unit = slice.key->form == FORM_STITCHES ? UNIT_STITCH
                     : slice.key->form == FORM_ROUNDS ? UNIT_ROW
                                                      : UNIT_NONE;

    out->said = slice_whole(reader, &slice, unit, &out->value);
    return out->said;
}

bool form_length(const struct reader *reader, struct slice slice, void *value)
{
    struct given_length *out = value;

    return slice_inches(reader, &slice, slice.key->range, &out->in);
}

/* A needle of 4 is 4 mm to one knitter and a US 4 to another, and never 4 inches. */
bool form_needle(const struct reader *reader, struct slice slice, void *value)
{
    struct quantity quantity;
    size_t fault_at;

    if (quantity_read(slice_text(&slice), slice_length(&slice), &quantity, &fault_at) != NUMBER_OK ||
        quantity.unit != UNIT_NONE)
        return form_length(reader, slice, value);
    return slice_fault(reader, &slice, DIAG_VALUE_UNIT,
                       arena_printf(reader->work->arena, "\"%s\" could be millimetres or a needle number.",
                                    slice_seen(reader, &slice)),
                       slice_example(reader, &slice));
}

bool form_ratio(const struct reader *reader, struct slice slice, void *value)
{
    struct given_ratio *out = value;

    return slice_ratio(reader, &slice, &out->ratio);
}

bool form_ease(const struct reader *reader, struct slice slice, void *value)
{
    struct given_ease *out = value;
    const char *key = slice.key->key, *seen = slice_seen(reader, &slice);
    struct quantity quantity;

    if (!slice_quantity(reader, &slice, &quantity))
        return false;
    if (quantity.unit == UNIT_NONE && quantity.value.num != 0)
        return slice_fault(
            reader, &slice, DIAG_VALUE_UNIT,
            arena_printf(reader->work->arena, "\"%s\" could be per cent or a length.", seen),
            arena_printf(reader->work->arena, "Write %s = %s %% or %s = %s %s.", key, seen, key, seen,
                                reader->project->units.value == UNIT_CM ? "cm" : "in"));
    out->is_ratio = quantity.unit == UNIT_PERCENT;
    return out->is_ratio ? slice_ratio(reader, &slice, &out->value)
                         : slice_inches(reader, &slice, slice.key->range, &out->value);
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

bool form_yarn(const struct reader *reader, struct slice slice, void *value)
{
    struct given_yarn *out = value;

    *out = slice_yarn(reader, &slice);
    return true;
}

/* --- a section ---------------------------------------------------------------------- */

static const struct form {
    size_t bytes, place;
    bool (*read)(const struct reader *reader, struct slice slice, void *value);
} all_forms[] = {
#define FORM(id, type, place, read) {sizeof(struct type), offsetof(struct type, place), read},
    FORMS(FORM)
#undef FORM
};

static void put_yarn(const struct key_facts *key, struct given_yarn none, void *value)
{
    struct given_unravelled *row = value;

    if (key->form == FORM_YARN)
        *(struct given_yarn *)value = none;
    else if (key->form == FORM_PLAIN_ROUNDS)
        ((struct plain_rounds *)value)->yarn = none;
    else if (key->form == FORM_BALL_WEIGHED)
        ((struct given_weighed *)value)->yarn = none;
    else if (key->form == FORM_UNRAVELLED || key->form == FORM_MARKED)
        row->yarn[0] = row->yarn[1] = none;
}

/* What holds where nothing is said. A default in words is nothing, or settled in project.c. */
static void put_default(const struct reader *reader, const struct key_facts *key, void *value,
                        struct place at)
{
    const struct form *form = &all_forms[key->form];
    const char *said = key->fallback;

    memset(value, 0, form->bytes);
    put_yarn(key, reader_no_yarn(reader), value);
    *(struct place *)(void *)((char *)value + form->place) = at;
    if (key->form == FORM_MARK && said[1] == '\0')
        ((struct given_text *)value)->text = said;
    else if (key->form == FORM_CHOICE)
        ((struct given_choice *)value)->value = choice_default(reader, key);
    else if (key->form == FORM_YES)
        ((struct given_choice *)value)->value = strcmp(said, "yes") == 0;
    else if (key->form == FORM_WHOLE || key->form == FORM_STITCHES || key->form == FORM_STITCH)
        ((struct given_whole *)value)->value =
            (int)strtol(said + strcspn(said, "0123456789"), NULL, 10);
}

static void read_key(const struct reader *reader, const struct key_facts *key, const char *name,
                     void *value)
{
    struct slice slice;
    struct place at;
    bool full;

    if (reader->section < 0 || !ini_find(reader->ini, reader->section, name))
        return;
    full = reader_slice(reader, name, &slice, &at);
    put_default(reader, key, value, at);
    if (full && !all_forms[key->form].read(reader, slice, value))
        put_default(reader, key, value, at);
}

/* `weight`, `weight 2`: each time into the next place of its field. */
static void read_times(const struct reader *reader, const struct key_facts *key, char *value)
{
    read_key(reader, key, key->key, value);
    for (int n = 2; n <= key->times; n++)
        read_key(reader, key, arena_printf(reader->work->arena, "%s %d", key->key, n),
                 value + (size_t)(n - 1) * all_forms[key->form].bytes);
}

static void put_defaults(const struct reader *reader, const struct key_facts *key, char *value)
{
    for (int n = 1; n <= key->times; n++)
        put_default(reader, key, value + (size_t)(n - 1) * all_forms[key->form].bytes,
                    reader_place(reader));
}

void reader_section(struct reader *reader, void *home)
{
    reader->home = home;
    for (int i = 0; i < key_facts_count(); i++)
        if (key_facts_at(i)->section == reader->kind)
            put_defaults(reader, key_facts_at(i), (char *)home + key_facts_at(i)->offset);
    for (int i = 0; i < key_facts_count(); i++) /* after them: rounds and rows have one field */
        if (key_facts_at(i)->section == reader->kind)
            read_times(reader, key_facts_at(i), (char *)home + key_facts_at(i)->offset);
}
