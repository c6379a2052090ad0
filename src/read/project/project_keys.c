/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "project_reader.h"

#include <stddef.h>
#include <string.h>

#include "base/arena.h"
#include "base/text.h"
#include "base/work.h"

enum { ALONE, NAMED };

static const struct section_facts all_sections[SECTION_KIND_COUNT] = {
#define SECTION(id, head, naming, what) [SECTION_##id] = {head, (naming) == NAMED, what},
#include "keys.h"
};

/* The comparison, never made: a field that is not of the struct of its form gets a warning. */
#define FIELD(form, into, field)                                                                   \
    offsetof(struct into, field) +                                                                 \
        0 * sizeof(&((struct into *)NULL)->field == &((union form_##form *)NULL)->value)
#define TIMES(into, field)                                                                         \
    sizeof ((struct into *)NULL)->field / sizeof ((struct into *)NULL)->field[0]

#define FORM(id, type, place, read)                                                                \
    union form_##id {                                                                              \
        struct type value;                                                                         \
    };
FORMS(FORM)
#undef FORM

static const struct key_facts all_keys[] = {
#define KEY(section, key, form, words, range, fallback, example, into, field)                      \
    {SECTION_##section, key, FORM_##form, words, range, fallback, example, 1,                      \
     FIELD(form, into, field)},
#define AGAIN(section, key, form, words, range, fallback, example, into, field)                    \
    {SECTION_##section, key, FORM_##form, words, range, fallback, example, TIMES(into, field),     \
     FIELD(form, into, field[0])},
#include "keys.h"
};

enum { KEYS = sizeof all_keys / sizeof all_keys[0] };

const struct section_facts *section_facts(enum section_kind kind)
{
    return &all_sections[kind];
}

static const struct key_facts *key_alone(enum section_kind kind, const char *key, size_t length)
{
    for (int i = 0; i < KEYS; i++)
        if (all_keys[i].section == kind && strlen(all_keys[i].key) == length &&
            memcmp(all_keys[i].key, key, length) == 0)
            return &all_keys[i];
    return NULL;
}

/* The number behind a key, " 2" to " 99", and what stands before it; else 0. */
static int number_behind(const char *key, size_t *before)
{
    size_t length = strlen(key), at = length;
    int number = 0;

    while (at > 0 && length - at < 2 && key[at - 1] >= '0' && key[at - 1] <= '9')
        at--;
    if (at == length || at < 2 || key[at - 1] != ' ' || key[at] == '0')
        return 0;
    for (size_t i = at; i < length; i++)
        number = 10 * number + (key[i] - '0');
    *before = at - 1;
    return number;
}

/* "weight 2": a key that may be given again, whatever the number. */
static const struct key_facts *key_numbered(enum section_kind kind, const char *key, int *number)
{
    size_t length = 0;
    const struct key_facts *found = NULL;

    *number = number_behind(key, &length);
    if (*number > 0)
        found = key_alone(kind, key, length);
    return found && found->times > 1 ? found : NULL;
}

const struct key_facts *key_facts_find(enum section_kind kind, const char *key)
{
    int number;
    const struct key_facts *found = key_alone(kind, key, strlen(key));

    if (found)
        return found;
    found = key_numbered(kind, key, &number);
    return found && number >= 2 && number <= found->times ? found : NULL;
}

int key_facts_count(void)
{
    return KEYS;
}

const struct key_facts *key_facts_at(int index)
{
    return &all_keys[index];
}

/* --- sections ----------------------------------------------------------------------- */

/* [yarn NAME], [float]: how a section of this kind is headed. */
static const char *heading(const struct reader *reader, enum section_kind kind, const char *name)
{
    const struct section_facts *facts = &all_sections[kind];

    if (!facts->named)
        return arena_printf(reader->work->arena, "[%s]", facts->head);
    return arena_printf(reader->work->arena, "[%s %s]", facts->head, *name ? name : "NAME");
}

static const char *all_headings(const struct reader *reader)
{
    struct text text = text_create(reader->work->arena);

    text_add(&text, "The sections are");
    for (int i = 0; i < SECTION_KIND_COUNT; i++)
        text_addf(&text, "%s %s", i == 0 ? "" : ",", heading(reader, (enum section_kind)i, ""));
    text_add(&text, ".");
    return text.bytes;
}

/* The kind whose head is nearest, or -1: the whole head for sections without a name, its
 * first word for the others. */
static int nearest_kind(const char *head, const char *first)
{
    const char *words[SECTION_KIND_COUNT];
    const char *found;
    int n = 0;

    for (int i = 0; i < SECTION_KIND_COUNT; i++)
        words[n++] = all_sections[i].head;
    found = text_nearest(head, words, n);
    n = 0;
    for (int i = 0; i < SECTION_KIND_COUNT && !found; i++)
        if (all_sections[i].named)
            words[n++] = all_sections[i].head;
    if (!found)
        found = text_nearest(first, words, n);
    for (int i = 0; found && i < SECTION_KIND_COUNT; i++)
        if (all_sections[i].head == found)
            return i;
    return -1;
}

static void report_unknown(struct reader *reader, const struct ini_section *section,
                           const char *first, const char *name)
{
    int kind = nearest_kind(section->head, first);

    if (kind >= 0)
        reader->suggested[kind] = true;
    diag_add(reader->work->diagnostics, DIAG_SECTION_UNKNOWN, section->at,
             arena_printf(reader->work->arena, "There is no section [%s].", section->typed),
             kind < 0 ? all_headings(reader)
                      : arena_printf(reader->work->arena, "Did you mean %s?",
                                     heading(reader, (enum section_kind)kind, name)));
}

/* A known head with a name too many, or one too few. */
static void report_name(struct reader *reader, const struct ini_section *section,
                        enum section_kind kind)
{
    bool needs = all_sections[kind].named;

    reader->suggested[kind] = true;
    if (kind == SECTION_SWATCH)
        diag_add(reader->work->diagnostics, DIAG_SECTION_NAME, section->at,
                 arena_printf(reader->work->arena, "There is no section [%s].", section->typed),
                 "Write [swatch] for the stranded fabric, [swatch plain] for the plain one.");
    else
        diag_add(reader->work->diagnostics, DIAG_SECTION_NAME, section->at,
                 arena_printf(reader->work->arena, "[%s] %s.", section->typed,
                              needs ? "has no name" : "takes no name"),
                 needs ? arena_printf(reader->work->arena, "Give it one, like this: [%s %s].",
                                      section->head, kind == SECTION_YARN ? "cream" : "ripple")
                       : arena_printf(reader->work->arena, "Write %s.", heading(reader, kind, "")));
}

static struct reader_section know_section(struct reader *reader, const struct ini_section *section)
{
    size_t word = strcspn(section->head, " ");
    const char *first = arena_strndup(reader->work->arena, section->head, word);
    const char *name = section->typed[word] ? section->typed + word + 1 : "";

    for (int i = 0; i < SECTION_KIND_COUNT; i++) {
        const struct section_facts *facts = &all_sections[i];
        enum section_kind kind = (enum section_kind)i;

        if (facts->named && *name && strcmp(facts->head, first) == 0)
            return (struct reader_section){true, kind, name};
        if (!facts->named && strcmp(facts->head, section->head) == 0)
            return (struct reader_section){true, kind, ""};
    }
    for (int i = 0; i < SECTION_KIND_COUNT; i++)
        if (strcmp(all_sections[i].head, first) == 0) {
            report_name(reader, section, (enum section_kind)i);
            return (struct reader_section){.known = false};
        }
    report_unknown(reader, section, first, name);
    return (struct reader_section){.known = false};
}

/* --- keys --------------------------------------------------------------------------- */

static const char *nearest_key(enum section_kind kind, const char *key)
{
    const char *words[KEYS];
    int n = 0;

    for (int i = 0; i < KEYS; i++)
        if (all_keys[i].section == kind)
            words[n++] = all_keys[i].key;
    return text_nearest(key, words, n);
}

/* The keys of a section, for when nothing is near. */
static const char *keys_of(const struct reader *reader, enum section_kind kind)
{
    struct text text = text_create(reader->work->arena);
    bool first = true;

    text_addf(&text, "Its keys are ");
    for (int i = 0; i < KEYS; i++)
        if (all_keys[i].section == kind) {
            text_addf(&text, "%s%s", first ? "" : ", ", all_keys[i].key);
            first = false;
        }
    text_add(&text, ".");
    return text.bytes;
}

/* "It belongs in [cast-on] or [plain NAME]." for a key of other sections, else NULL. */
static const char *key_elsewhere(const struct reader *reader, const char *key)
{
    struct text text = text_create(reader->work->arena);
    int n = 0, left = 0;

    for (int i = 0; i < KEYS; i++)
        left += strcmp(all_keys[i].key, key) == 0;
    if (left == 0)
        return NULL;
    for (int i = 0; i < KEYS; i++)
        if (strcmp(all_keys[i].key, key) == 0) {
            text_addf(&text, "%s%s",
                      n == 0      ? "It belongs in "
                      : left == 1 ? " or "
                                  : ", ",
                      heading(reader, all_keys[i].section, ""));
            n++;
            left--;
        }
    text_add(&text, ".");
    return text.bytes;
}

/* "unravelled 10": a key that may be given again, but not so often; else NULL. */
static const char *key_too_often(const struct reader *reader, enum section_kind kind, const char *key)
{
    int number;
    const struct key_facts *found = key_numbered(kind, key, &number);

    if (!found)
        return NULL;
    return arena_printf(reader->work->arena,
                        "Write the first as \"%s\", more of them as \"%s 2\" up to \"%s %d\".",
                        found->key, found->key, found->key, found->times);
}

static void know_key(struct reader *reader, int index)
{
    const struct ini_entry *entry = &reader->ini->entries[index];
    const struct reader_section *section = &reader->sections[entry->section];
    const char *todo, *near;

    if (!section->known || key_facts_find(section->kind, entry->key))
        return;
    todo = key_too_often(reader, section->kind, entry->key);
    if (!todo)
        todo = key_elsewhere(reader, entry->key);
    near = nearest_key(section->kind, entry->key);
    if (!todo && near) {
        todo = arena_printf(reader->work->arena, "Did you mean \"%s\"?", near);
        reader->meant[index] = near;
    } else if (!todo) {
        todo = keys_of(reader, section->kind);
    }
    diag_add(reader->work->diagnostics, DIAG_KEY_UNKNOWN, entry->key_at,
             arena_printf(reader->work->arena, "There is no key \"%s\" in [%s].", entry->key,
                          reader->ini->sections[entry->section].typed),
             todo);
}

void reader_know(struct reader *reader)
{
    struct arena *arena = reader->work->arena;
    const struct ini *ini = reader->ini;

    reader->sections = arena_alloc(arena, (size_t)ini->nsections, sizeof *reader->sections);
    reader->meant = arena_alloc(arena, (size_t)ini->nentries, sizeof *reader->meant);
    for (int i = 0; i < ini->nsections; i++)
        reader->sections[i] = know_section(reader, &ini->sections[i]);
    for (int i = 0; i < ini->nentries; i++)
        know_key(reader, i);
}

/* --- being in a section ------------------------------------------------------------- */

bool reader_enter(struct reader *reader, enum section_kind kind)
{
    reader->kind = kind;
    reader->section = -1;
    for (int i = 0; i < reader->ini->nsections; i++)
        if (reader->sections[i].known && reader->sections[i].kind == kind) {
            reader->section = i;
            return true;
        }
    return false;
}

void reader_enter_at(struct reader *reader, int section)
{
    reader->section = section;
    reader->kind = reader->sections[section].kind;
}

bool reader_next(struct reader *reader, int *section, enum section_kind a, enum section_kind b)
{
    while (++*section < reader->ini->nsections) {
        const struct reader_section *next = &reader->sections[*section];

        if (!next->known || (next->kind != a && next->kind != b))
            continue;
        reader_enter_at(reader, *section);
        return true;
    }
    return false;
}

struct place reader_place(const struct reader *reader)
{
    if (reader->section >= 0)
        return reader->ini->sections[reader->section].at;
    return (struct place){.source = reader->ini->source, .width = 1};
}
