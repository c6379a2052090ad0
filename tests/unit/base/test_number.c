/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Expected values: read by eye. 1 in = 2.54 cm and 1 yd = 0.9144 m, and 1 lb = 453.59237 g of
 * 16 oz: international yard and pound agreement of 1959 (Federal Register 24, p. 5348).
 */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <string.h>

#include "base/number.h"

static const char *unit_name(enum unit unit)
{
    static const char *const names[UNIT_COUNT] = {
        [UNIT_NONE] = "",           [UNIT_INCH] = "in",  [UNIT_CM] = "cm",
        [UNIT_MM] = "mm",           [UNIT_METRE] = "m",  [UNIT_YARD] = "yd",
        [UNIT_GRAM] = "g",          [UNIT_OUNCE] = "oz", [UNIT_PERCENT] = "%",
        [UNIT_STITCH] = "stitches", [UNIT_ROW] = "rows", [UNIT_BALL] = "balls",
    };

    return names[unit];
}

/* Read text; "num/den unit" or the fault and its offset. */
static const char *shown(const char *text, char out[80])
{
    struct quantity quantity;
    size_t at;
    int status = quantity_read(text, strlen(text), &quantity, &at);

    if (status < 0)
        snprintf(out, 80, "fault %d at %zu%s", -status, at,
                 rational_is_value(quantity.value) ? " with a value" : "");
    else
        snprintf(out, 80, "%lld/%lld %s", (long long)quantity.value.num,
                 (long long)quantity.value.den, unit_name(quantity.unit));
    return out;
}

struct example {
    const char *text;
    const char *expected;
};

static void check(const struct example *examples, size_t count)
{
    char out[80];

    for (size_t i = 0; i < count; i++) {
        if (strcmp(shown(examples[i].text, out), examples[i].expected) != 0)
            printf("\n    \"%s\" gives \"%s\" instead of \"%s\"", examples[i].text, out,
                   examples[i].expected);
        CU_ASSERT_STRING_EQUAL(shown(examples[i].text, out), examples[i].expected);
    }
}

#define CHECK(examples) check(examples, sizeof examples / sizeof examples[0])

static void numbers(void)
{
    static const struct example examples[] = {
        {"12", "12/1 "},
        {"8.5", "17/2 "},
        {"21,5", "43/2 "},
        {".75", "3/4 "},
        {"1/2", "1/2 "},
        {"8 1/2", "17/2 "},
        {"8\t1/2", "17/2 "},
        {"8½", "17/2 "},
        {"8 ½", "17/2 "},
        {"8\xC2\xA0½", "17/2 "}, /* a blank that does not break */
        {"8 1⁄2", "17/2 "},      /* a fraction slash */
        {"½", "1/2 "},
        {"¼", "1/4 "},
        {"¾", "3/4 "},
        {"5⅛", "41/8 "},
        {"5⅜", "43/8 "},
        {"5⅝", "45/8 "},
        {"5⅞", "47/8 "},
        {"5⅓", "16/3 "},
        {"5⅔", "17/3 "},
        {"7/3", "7/3 "},
        {"-2 %", "-2/1 %"},
        {"\xE2\x88\x92"
         "2.385",
         "-477/200 "}, /* a true minus sign */
        {"-8 1/2", "-17/2 "},
        {"+3", "3/1 "},
        {"  12  ", "12/1 "},
        {"007", "7/1 "},
        {"9999999.999999", "9999999999999/1000000 "},
        {"9999999/1000", "9999999/1000 "},
    };

    CHECK(examples);
}

static void units(void)
{
    static const struct example examples[] = {
        {"8in", "8/1 in"},
        {"8 in", "8/1 in"},
        {"8 Inches", "8/1 in"},
        {"8 inch", "8/1 in"},
        {"8\"", "8/1 in"},
        {"8½\"", "17/2 in"},
        {"8″", "8/1 in"},
        {"8”", "8/1 in"},
        {"21,5 cm", "43/2 cm"},
        {"21.5CM", "43/2 cm"},
        {"2 mm", "2/1 mm"},
        {"200 m", "200/1 m"},
        {"200 metres", "200/1 m"},
        {"200 meter", "200/1 m"},
        {"218 yds", "218/1 yd"},
        {"218 yard", "218/1 yd"},
        {"50g", "50/1 g"},
        {"50 grammes", "50/1 g"},
        {"1 3/4 oz", "7/4 oz"},
        {"1 ounce", "1/1 oz"},
        {"10%", "10/1 %"},
        {"10 per cent", "10/1 %"},
        {"10 percent", "10/1 %"},
        {"26 sts", "26/1 stitches"},
        {"1 stitch", "1/1 stitches"},
        {"30 rnds", "30/1 rows"},
        {"30 rows", "30/1 rows"},
        {"1 round", "1/1 rows"},
        {"2 balls", "2/1 balls"},
    };

    CHECK(examples);
}

/* 1 no number, 2 too long, 3 fraction, 4 unit, 5 something behind */
static void refused(void)
{
    static const struct example examples[] = {
        {"", "fault 1 at 0"},           {"   ", "fault 1 at 3"},
        {"in", "fault 1 at 0"},         {"- 2", "fault 1 at 1"},
        {"--2", "fault 1 at 1"},        {",5", "fault 1 at 0"},
        {".", "fault 1 at 0"},          {"about 8", "fault 1 at 0"},
        {"nan", "fault 1 at 0"},        {"12345678", "fault 2 at 0"},
        {" 1.1234567", "fault 2 at 1"}, {"1/0", "fault 3 at 2"},
        {"1/1", "fault 3 at 2"},        {"1/1001", "fault 3 at 2"},
        {"1/", "fault 3 at 2"},         {"1/x", "fault 3 at 2"},
        {"1/2/3", "fault 3 at 3"},      {"1/2.5", "fault 3 at 3"},
        {"1.5/2", "fault 3 at 3"},      {"8.5½", "fault 3 at 3"},
        {"½½", "fault 3 at 2"},         {"½ ½", "fault 3 at 3"},
        {"1 2 3", "fault 3 at 2"},      {"1 000", "fault 3 at 2"},
        {"8.5 1/2", "fault 3 at 4"},    {"8 3/2", "fault 3 at 2"},
        {"8 1/0", "fault 3 at 4"},      {"8 1/2 1/2", "fault 3 at 6"},
        {"12 ells", "fault 4 at 3"},    {"1e3", "fault 4 at 1"},
        {"0x1F", "fault 4 at 1"},       {"12 inn", "fault 4 at 3"},
        {"10 per row", "fault 4 at 3"}, {"8 in wide", "fault 5 at 5"},
        {"8-1/2", "fault 5 at 1"},      {"8 × 10", "fault 5 at 2"},
        {"5.", "fault 5 at 1"},         {"1.2.3", "fault 5 at 3"},
        {"1,2,3", "fault 5 at 3"},      {"8 in 2", "fault 5 at 5"},
        {"8''", "fault 5 at 1"},
    };

    CHECK(examples);
}

static void head_of_more(void)
{
    static const char gauge[] = "  6 1/2 sts = 1 in";
    static const char cut[] = "8 1/25";
    struct rational value;
    size_t used;

    CU_ASSERT_EQUAL(number_read(gauge, strlen(gauge), &value, &used), NUMBER_OK);
    CU_ASSERT(value.num == 13 && value.den == 2);
    CU_ASSERT_EQUAL(used, 7);
    CU_ASSERT_EQUAL(number_read("12 sts", 6, &value, &used), NUMBER_OK);
    CU_ASSERT_EQUAL(used, 2);
    /* nothing beyond the length given is looked at */
    CU_ASSERT_EQUAL(number_read(cut, 5, &value, &used), NUMBER_OK);
    CU_ASSERT(value.num == 17 && value.den == 2);
    CU_ASSERT_EQUAL(number_read(cut, 3, &value, &used), NUMBER_OK);
    CU_ASSERT(value.num == 8 && value.den == 1 && used == 1);
    CU_ASSERT_EQUAL(number_read("x", 1, &value, &used), NUMBER_MISSING);
    CU_ASSERT(!rational_is_value(value));
}

/* --- lists -------------------------------------------------------------------------- */

/* "count: num/den unit@offset ..." or the fault and its offset. */
static const char *list_shown(const char *text, char out[200])
{
    struct quantity list[4];
    size_t offsets[4], at;
    int count;
    int status = quantity_list_read(text, strlen(text), list, offsets, 4, &count, &at);

    if (status < 0) {
        snprintf(out, 200, "fault %d at %zu", -status, at);
        return out;
    }
    snprintf(out, 200, "%d:", count);
    for (int i = 0; i < count && i < 4; i++)
        snprintf(out + strlen(out), 200 - strlen(out), " %lld/%lld%s@%zu",
                 (long long)list[i].value.num, (long long)list[i].value.den,
                 unit_name(list[i].unit), offsets[i]);
    return out;
}

static void lists(void)
{
    static const struct example examples[] = {
        {"31, 32", "2: 31/1@0 32/1@4"},
        {"31", "1: 31/1@0"},
        {" 31 , 32 ", "2: 31/1@1 32/1@6"},
        {"31,5, 32", "2: 63/2@0 32/1@6"},
        {"31, 32,5", "2: 31/1@0 65/2@4"},
        {"31 cm,32 cm", "2: 31/1cm@0 32/1cm@6"},
        {"31,5 cm, 32,5 cm", "2: 63/2cm@0 65/2cm@9"},
        {"8\",9\"", "2: 8/1in@0 9/1in@3"},
        {"8 1/2,9 1/2", "2: 17/2@0 19/2@6"},
        {"1/2,3,5, 4", "3: 1/2@0 7/2@4 4/1@9"},
        {"8½,9", "2: 17/2@0 9/1@4"},
        {"1, 2, 3, 4, 5, 6", "6: 1/1@0 2/1@3 3/1@6 4/1@9"}, /* four written, all counted */
        {"31,32", "fault 6 at 2"},
        {"31,32,33", "fault 6 at 2"},
        {"31,5 cm", "fault 6 at 2"},
        {"31,32,33, 34", "fault 6 at 5"},
        {"", "fault 1 at 0"},
        {"31,", "fault 1 at 3"},
        {"31, , 32", "fault 1 at 4"},
        {", 31", "fault 1 at 0"},
        {"31,, 32", "fault 1 at 3"},
        {"31, x", "fault 1 at 4"},
        {"31, 32 ells", "fault 4 at 7"},
        {"31, 32 in wide, 33", "fault 5 at 10"},
        {"31; 32", "fault 5 at 2"},
        {"31, 1/0", "fault 3 at 6"},
    };
    char out[200];

    for (size_t i = 0; i < sizeof examples / sizeof examples[0]; i++) {
        if (strcmp(list_shown(examples[i].text, out), examples[i].expected) != 0)
            printf("\n    \"%s\" gives \"%s\" instead of \"%s\"", examples[i].text, out,
                   examples[i].expected);
        CU_ASSERT_STRING_EQUAL(list_shown(examples[i].text, out), examples[i].expected);
    }
}

static void a_list_without_offsets(void)
{
    struct quantity one[1];
    size_t at;
    int count;

    CU_ASSERT_EQUAL(quantity_list_read("31, 32", 6, one, NULL, 1, &count, &at), NUMBER_OK);
    CU_ASSERT_EQUAL(count, 2);
    CU_ASSERT_EQUAL(one[0].value.num, 31);
}

/* --- units -------------------------------------------------------------------------- */

static int is(struct rational a, int64_t num, int64_t den)
{
    return rational_is_value(a) && rational_compare(a, rational_make(num, den)) == 0;
}

static struct quantity of(int64_t num, int64_t den, enum unit unit)
{
    return (struct quantity){rational_make(num, den), unit};
}

static void conversions(void)
{
    CU_ASSERT(is(quantity_inches(of(2385, 1000, UNIT_INCH), UNIT_CM), 2385, 1000));
    CU_ASSERT(is(quantity_inches(of(254, 10, UNIT_CM), UNIT_INCH), 10, 1));
    CU_ASSERT(is(quantity_inches(of(254, 1, UNIT_MM), UNIT_INCH), 10, 1));
    CU_ASSERT(is(quantity_inches(of(9144, 10000, UNIT_METRE), UNIT_INCH), 36, 1));
    CU_ASSERT(is(quantity_inches(of(3, 2, UNIT_YARD), UNIT_INCH), 54, 1));
    CU_ASSERT(is(quantity_inches(of(127, 50, UNIT_NONE), UNIT_CM), 1, 1));
    CU_ASSERT(!rational_is_value(quantity_inches(of(5, 1, UNIT_GRAM), UNIT_INCH)));
    CU_ASSERT(!rational_is_value(quantity_inches(of(5, 1, UNIT_NONE), UNIT_NONE)));
    /* a pound is sixteen ounces */
    CU_ASSERT(is(quantity_grams(of(16, 1, UNIT_OUNCE), UNIT_GRAM), 45359237, 100000));
    CU_ASSERT(is(quantity_grams(of(55, 1, UNIT_NONE), UNIT_GRAM), 55, 1));
    CU_ASSERT(!rational_is_value(quantity_grams(of(5, 1, UNIT_METRE), UNIT_GRAM)));
    CU_ASSERT(is(quantity_metres(of(220, 1, UNIT_YARD), UNIT_METRE), 201168, 1000));
    CU_ASSERT(is(quantity_metres(of(215, 1, UNIT_METRE), UNIT_YARD), 215, 1));
    CU_ASSERT(is(quantity_metres(of(36, 1, UNIT_INCH), UNIT_METRE), 9144, 10000));
    CU_ASSERT(is(quantity_metres(of(545, 10, UNIT_CM), UNIT_METRE), 545, 1000));
    CU_ASSERT(is(quantity_metres(of(545, 1, UNIT_MM), UNIT_METRE), 545, 1000));
    CU_ASSERT(!rational_is_value(quantity_metres(of(5, 1, UNIT_OUNCE), UNIT_METRE)));
    CU_ASSERT(!rational_is_value(
        quantity_inches((struct quantity){rational_none(), UNIT_CM}, UNIT_INCH)));
}

/* --- did you mean ------------------------------------------------------------------- */

static void distances(void)
{
    CU_ASSERT_EQUAL(text_distance("gauge", "gauge"), 0);
    CU_ASSERT_EQUAL(text_distance("Gauge", "gaUGe"), 0);
    CU_ASSERT_EQUAL(text_distance("gague", "gauge"), 1); /* neighbours exchanged */
    CU_ASSERT_EQUAL(text_distance("guage", "gauge"), 1);
    CU_ASSERT_EQUAL(text_distance("kitten", "sitting"), 3); /* the textbook pair */
    CU_ASSERT_EQUAL(text_distance("", "rib"), 3);
    CU_ASSERT_EQUAL(text_distance("rib", ""), 3);
    CU_ASSERT_EQUAL(text_distance("ca", "abc"), 3); /* alignment: no letter moved twice */
    CU_ASSERT_EQUAL(text_distance("around", "round"), 1);
}

static void very_long_words(void)
{
    char a[400], b[400];

    memset(a, 'a', sizeof a);
    memset(b, 'b', sizeof b);
    a[100] = b[100] = '\0';
    CU_ASSERT_EQUAL(text_distance(a, b), 100);
    a[100] = 'a';
    a[399] = '\0';
    CU_ASSERT_EQUAL(text_distance(a, "abc"), 100);
    CU_ASSERT_PTR_NULL(text_nearest(a, (const char *const[]){"abc"}, 1));
}

static void nearest_words(void)
{
    static const char *const keys[] = {"stitches", "rows", "around", "width", "round"};

    CU_ASSERT_PTR_EQUAL(text_nearest("stiches", keys, 5), keys[0]);
    CU_ASSERT_PTR_EQUAL(text_nearest("ROW", keys, 5), keys[1]);
    CU_ASSERT_PTR_EQUAL(text_nearest("arund", keys, 5), keys[2]);
    CU_ASSERT_PTR_EQUAL(text_nearest("wdith", keys, 5), keys[3]);
    CU_ASSERT_PTR_NULL(text_nearest("wxyth", keys, 5)); /* two of five letters: too far */
    CU_ASSERT_PTR_EQUAL(text_nearest("stychez", keys, 5), NULL);
    CU_ASSERT_PTR_EQUAL(text_nearest("stetchas", keys, 5), keys[0]); /* two of eight */
    CU_ASSERT_PTR_NULL(text_nearest("colour", keys, 5));
    CU_ASSERT_PTR_NULL(text_nearest("stitches", keys, 0));
}

CU_TestInfo tests_number[] = {
    {"numbers as a knitter writes them", numbers},
    {"units, near or far", units},
    {"what is refused, why and where", refused},
    {"a number at the head of more", head_of_more},
    {"lists", lists},
    {"a list without offsets, cut short", a_list_without_offsets},
    {"conversions are exact", conversions},
    {"edit distance", distances},
    {"very long words", very_long_words},
    {"did you mean", nearest_words},
    CU_TEST_INFO_NULL,
};
