/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Shared by project*.c alone: the project file being read, and its values one by one.
 *
 * reader_section() goes through the keys of the section that was entered, as keys.h lists them, and
 * reads each by its form into its field.
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

/* Every form of a value: FORM(id, the struct it is read into, where that keeps its place, reader). The
 * reader takes the value, trimmed, and fills the struct, which has the default of keys.h; false: what it
 * says was reported as a fault, and the default stands. */
#define FORMS(FORM)                                                                                \
    FORM(TEXT, given_text, at, form_text)                                                          \
    FORM(MARK, given_text, at, form_mark)                                                          \
    FORM(SHADE, given_text, at, form_shade)     /* its yarn's rgb too */                           \
    FORM(CHARTS, given_text, at, form_charts)   /* all of its part's */                            \
    FORM(CHOICE, given_choice, at, form_choice) /* its number in the form; -1: no default */       \
    FORM(YES, given_choice, at, form_yes)                                                          \
    FORM(BIND_OFF, given_choice, at, form_bind_off) /* the project's bind_off_yarn too */          \
    FORM(WHOLE, given_whole, at, form_whole)                                                       \
    FORM(STITCHES, given_whole, at, form_whole)                                                    \
    FORM(ROUNDS, given_whole, at, form_whole)                                                      \
    FORM(STITCH, given_whole, at, form_stitch)                                                     \
    FORM(REPEATS, given_whole, at, form_repeats)                                                   \
    FORM(RIB, given_text, at, form_rib) /* the rest of the rib too */                              \
    FORM(RIB_STITCHES, given_whole, at, form_rib_stitches) /* which kind, and the ratio too */     \
    FORM(LENGTH, given_length, at, form_length)                                                    \
    FORM(NEEDLE, given_length, at, form_needle)                                                    \
    FORM(MEASURE, given_length, at, form_measure) /* its part's share too */                       \
    FORM(RATIO, given_ratio, at, form_ratio)                                                       \
    FORM(EASE, given_ease, at, form_ease)                                                          \
    FORM(YARN, given_yarn, at, form_yarn)                                                          \
    FORM(COUNTS, given_counts, at, form_counts)                                                    \
    FORM(SIZES, given_sizes, at, form_sizes)                                                       \
    FORM(REMEDY, given_remedy, at, form_remedy)                                                    \
    FORM(PLAIN_ROUNDS, plain_rounds, at, form_plain_rounds)                                        \
    FORM(UNRAVELLED, given_unravelled, at, form_row)                                               \
    FORM(MARKED, given_unravelled, at, form_row)                                                   \
    FORM(PULLS, given_pull, at, form_pulls)                                                        \
    FORM(GRAMS, given_grams, at, form_grams)                                                       \
    FORM(WEIGHT, given_weight, at, form_weight)                                                    \
    FORM(BALL_WEIGHED, given_weighed, at, form_ball_weighed)                                       \
    FORM(BALL, ball, at, form_ball)                                                                \
    FORM(HAVE, given_have, at, form_have)                                                          \
    FORM(YARN_GRAMS, given_yarn_grams, at, form_yarn_grams)                                        \
    FORM(WEIGHING, given_weighing, left.at, form_weighing)

enum form_id {
#define FORM(id, type, place, read) FORM_##id,
    FORMS(FORM)
#undef FORM
};

struct section_facts {
    const char *head;
    bool named;
    const char *what;
};

struct key_facts {
    enum section_kind section;
    const char *key;
    enum form_id form;
    const char *words, *range, *fallback, *example; /* words: of the form */
    int times;     /* 1, or how often it may be given: `weight`, `weight 2` */
    size_t offset; /* of its field: in struct project, or in what a named section is */
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
    void *home;                         /* what its keys are read into */
};

/* Know every section and key, and report those nobody knows. Given: work and ini. */
void reader_know(struct reader *reader);

/* Read on in the one section of this kind. Returned: whether it is there. */
bool reader_enter(struct reader *reader, enum section_kind kind);
/* Read on in section number `section`. */
void reader_enter_at(struct reader *reader, int section);
/* Read on in the next section of either kind behind number *section (-1: the first), and say which. */
bool reader_next(struct reader *reader, int *section, enum section_kind a, enum section_kind b);
/* Every key of the section entered, into home: its own or the default of keys.h. */
void reader_section(struct reader *reader, void *home);
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

/* Report it. Each that ends in _fault returns false, always, so that a reader may return it. */
bool slice_fault(const struct reader *reader, const struct slice *slice, enum diag_code code,
                 const char *what, const char *todo);
/* Inches of a range (exact) or of an example (about as long) in centimetres, where her project has
 * those. */
const char *reader_units(const struct reader *reader, const char *words, bool exact);
/* "Write it like this: over = 4 in." */
const char *slice_example(const struct reader *reader, const struct slice *slice);

/* --- numbers in a slice (project_numbers.c): false after reporting ------------------- */

bool slice_quantity(const struct reader *reader, const struct slice *slice,
                    struct quantity *quantity);
/* Report what quantity_read() and quantity_list_read() found wrong. */
bool slice_number_fault(const struct reader *reader, const struct slice *slice, int status,
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
bool slice_unit_fault(const struct reader *reader, const struct slice *slice,
                      struct quantity quantity);

/* --- values by their form (project_values.c, _forms.c, _gauge.c, _weighed.c) ----------- */

#define FORM(id, type, place, read)                                                                \
    bool read(const struct reader *reader, struct slice slice, void *value);
FORMS(FORM)
#undef FORM

struct given_yarn slice_yarn(const struct reader *reader, const struct slice *slice);
struct given_yarn reader_no_yarn(const struct reader *reader);
/* Which of words[n] the text is (case ignored, white space collapsed), or -1. */
int slice_choice(const struct reader *reader, const struct slice *slice, const char *const *words,
                 int n);
bool slice_choice_fault(const struct reader *reader, const struct slice *slice,
                        const char *const *words, int n);
/* unit_g: grams in the unit it is written in. */
bool slice_grams(const struct reader *reader, const struct slice *slice, struct rational *grams,
                 struct rational *unit_g);

/* Take from the head of *slice, or report that the value is not in its form. */
bool take_word(const struct reader *reader, struct slice *slice, const char *const *words);
bool take_whole(const struct reader *reader, struct slice *slice, const char *range, int *value);
bool take_end(const struct reader *reader, const struct slice *slice);
/* The same, unreported. */
bool try_word(struct slice *slice, const char *const *words);
bool try_sign(struct slice *slice, char sign);
bool slice_form_fault(const struct reader *reader, const struct slice *slice);

extern const char *const stitch_words[];
extern const char *const row_words[];

/* --- what is missing (project_needs.c) ------------------------------------------------ */

void reader_check_needs(struct reader *reader);

#endif
