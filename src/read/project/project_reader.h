/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Shared by project*.c alone: the project file being read, and its values one by one.
 *
 * Each reader_KIND(reader, key) looks the key up in the section that was entered and
 * returns the value with its place, or the default of keys.h, else none: because the key is
 * not there, or because what it says was reported as a fault.
 */
#ifndef STRANDWISE_PROJECT_READER_H
#define STRANDWISE_PROJECT_READER_H

#include "base/diag.h"
#include "base/number.h"
#include "read/ini/ini.h"
#include "project.h"

enum section_kind {
#define SECTION(id, head, naming, what) SECTION_##id,
#include "keys.h"
    SECTION_KIND_COUNT
};

struct section_facts {
    const char *head;
    bool named;
    const char *what;
};

struct key_facts {
    enum section_kind section;
    const char *key, *form, *range, *fallback, *example;
};

/* project_keys.c */
const struct section_facts *section_facts(enum section_kind kind);
/* Or NULL. Of a key that may be given again, with a number behind it or without. */
const struct key_facts *key_facts_find(enum section_kind kind, const char *key);
int key_facts_count(void);
const struct key_facts *key_facts_at(int index);

struct reader_section {
    bool known;
    enum section_kind kind;
    const char *name; /* "ripple", as typed; "" for a section that takes none */
};

struct reader {
    struct work *work;
    const struct ini *ini;
    struct project *project;
    struct reader_section *sections;    /* ini->nsections */
    const char **meant;                 /* ini->nentries: the key suggested for an unknown one */
    bool suggested[SECTION_KIND_COUNT]; /* for an unknown section: do not also ask for it */
    bool any_gauge;                     /* there need be no swatch */
    int section;                        /* the one being read; -1: it is not there */
    enum section_kind kind;
};

/* Know every section and key, and report those nobody knows. Given: work and ini. */
void reader_know(struct reader *reader);

/* Read on in the one section of this kind. Returned: whether it is there. */
bool reader_enter(struct reader *reader, enum section_kind kind);
/* Read on in section number `section`. */
void reader_enter_at(struct reader *reader, int section);
struct place reader_place(const struct reader *reader); /* of the section, or of the file */

char reader_small(char c); /* an ASCII capital made small */
bool reader_same(const char *a, const char *b); /* but for ASCII capitals */

/* --- parts of a value (project_slice.c) --------------------------------------------- */

struct slice {
    const struct ini_entry *entry;
    const struct key_facts *key;
    size_t from, to; /* bytes of entry->value */
};

/* The value of key, trimmed; false if it is not there or was refused. *at: its place, or the
 * section's. */
bool reader_slice(const struct reader *reader, const char *key, struct slice *slice,
                  struct place *at);
struct slice slice_part(struct slice slice, size_t from, size_t to); /* trimmed */
const char *slice_text(const struct slice *slice);
size_t slice_length(const struct slice *slice);
struct place slice_place(const struct slice *slice);
/* For messages: the text, cut after 40 characters. */
const char *slice_seen(const struct reader *reader, const struct slice *slice);
/* White space collapsed. */
const char *slice_words(const struct reader *reader, const struct slice *slice);
/* Offset in the value of the next `mark` from slice->from, or slice->to. */
size_t slice_find(const struct slice *slice, char mark);
/* The same of a comma with white space behind it: 15,5 in is a number. */
size_t slice_find_comma(const struct slice *slice);
/* The same of a word (small letters) that stands on its own. */
size_t slice_find_word(const struct slice *slice, const char *word);

void slice_fault(const struct reader *reader, const struct slice *slice, enum diag_code code,
                 const char *what, const char *todo);
/* Inches of a range (exact) or of an example (about as long) in centimetres, where her project has
 * those. (project_units.c) */
const char *reader_units(const struct reader *reader, const char *words, bool exact);
/* "Write it like this: over = 4 in." */
const char *slice_example(const struct reader *reader, const struct slice *slice);

/* --- numbers in a slice (project_numbers.c): false after reporting ------------------- */

bool slice_quantity(const struct reader *reader, const struct slice *slice,
                    struct quantity *quantity);
/* Report what quantity_read() and quantity_list_read() found wrong. */
void slice_number_fault(const struct reader *reader, const struct slice *slice, int status,
                        size_t fault_at);
/* Is value, in this unit, within the key's range (or this one)? */
bool slice_in_range(const struct reader *reader, const struct slice *slice, const char *range,
                    struct rational value, enum unit unit);
bool slice_inches(const struct reader *reader, const struct slice *slice, const char *range,
                  struct rational *inches);
/* A whole number; unit: what may stand behind it. */
bool slice_whole(const struct reader *reader, const struct slice *slice, enum unit unit,
                 int *value);
bool slice_ratio(const struct reader *reader, const struct slice *slice, struct rational *ratio);
void slice_unit_fault(const struct reader *reader, const struct slice *slice,
                      struct quantity quantity);

/* --- plain values (project_values.c) ------------------------------------------------- */

struct given_text reader_text(struct reader *reader, const char *key);
struct given_text reader_mark(struct reader *reader, const char *key);
struct given_whole reader_whole(struct reader *reader, const char *key, enum unit unit);
/* The number of the choice in the key's form; -1: not said, and the default is none of them. */
struct given_choice reader_choice(struct reader *reader, const char *key);
struct given_choice reader_yes(struct reader *reader, const char *key);
struct given_length reader_length(struct reader *reader, const char *key);
struct given_length reader_needle(struct reader *reader, const char *key);
struct given_ratio reader_ratio(struct reader *reader, const char *key);
struct given_ease reader_ease(struct reader *reader, const char *key);
struct given_yarn reader_yarn(struct reader *reader, const char *key);
struct given_yarn slice_yarn(const struct reader *reader, const struct slice *slice);
struct given_yarn reader_no_yarn(const struct reader *reader);
/* Which of words[n] the text is (case ignored, white space collapsed), or -1. */
int slice_choice(const struct reader *reader, const struct slice *slice, const char *const *words,
                 int n);
void slice_choice_fault(const struct reader *reader, const struct slice *slice,
                        const char *const *words, int n);

/* --- values with a form of their own (project_forms.c, project_gauge.c) --------------- */

/* Take from the head of *slice, or report that the value is not in its form. */
bool form_word(const struct reader *reader, struct slice *slice, const char *const *words);
bool form_whole(const struct reader *reader, struct slice *slice, const char *range, int *value);
bool form_end(const struct reader *reader, const struct slice *slice);
/* The same, unreported. */
bool form_try_word(struct slice *slice, const char *const *words);
bool form_try_sign(struct slice *slice, char sign);
void form_fault(const struct reader *reader, const struct slice *slice);

extern const char *const form_stitch_words[];
extern const char *const form_row_words[];

void reader_rib(struct reader *reader, struct cast_on *cast_on);
void reader_rib_stitches(struct reader *reader, struct cast_on *cast_on);
struct plain_rounds reader_plain_rounds(struct reader *reader, const char *key);
void reader_bind_off(struct reader *reader, struct project *project);
struct given_whole reader_repeats(struct reader *reader, const char *key);
/* plain columns, 5 repeats (project_fit.c) */
struct given_remedy reader_remedy(struct reader *reader, const char *key);
/* "stitch 5", or the number alone; left out: 1. */
struct given_whole reader_stitch(struct reader *reader, const char *key);
/* A length, or per cent of `whole`: then *share is given, and the length is that share. */
struct given_length reader_measure(struct reader *reader, const char *key,
                                   const struct given_length *whole, struct given_ratio *share);
void reader_charts(struct reader *reader, struct part *part);
struct ball reader_ball(struct reader *reader, const char *key);
/* stranded: the stitches may stand behind the lengths (project_pulls.c). */
struct given_pull reader_pulls(struct reader *reader, const char *key, bool stranded);
struct given_sizes reader_sizes(struct reader *reader, const char *key); /* project_sizes.c */
struct given_have reader_have(struct reader *reader, const char *key); /* project_have.c */

struct given_counts reader_counts(struct reader *reader, const char *key);
/* The key as it is given for the n-th time, from 1: `weight`, `weight 2`. */
const char *reader_again(const struct reader *reader, const char *key, int n);
struct given_unravelled reader_unravelled(struct reader *reader, const char *key);
struct given_unravelled reader_marked(struct reader *reader, const char *key);
struct given_weight reader_weight(struct reader *reader, const char *key);
struct given_weighed reader_weighed(struct reader *reader, const char *key);
struct given_grams reader_grams(struct reader *reader, const char *key);
/* unit_g: grams in the unit it is written in. */
bool slice_grams(const struct reader *reader, const struct slice *slice, struct rational *grams,
                 struct rational *unit_g);

/* project_weighed.c */
struct given_weighing reader_weighing(struct reader *reader, const char *key);
struct given_yarn_grams reader_yarn_grams(struct reader *reader, const char *key);

/* --- what is missing (project_needs.c) ------------------------------------------------ */

void reader_check_needs(struct reader *reader);

#endif
