/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Expected values: rounded by hand; 2.54 cm to the inch is the international definition; JSON
 * escapes after RFC 8259, section 7; UTF-8 after RFC 3629, section 4.
 */
#include <CUnit/CUnit.h>
#include <limits.h>
#include <math.h>
#include <string.h>

#include "base/text.h"
#include "fixture_work.h"
#include "words/say.h"

#define CHECK(call, expected)                                                                      \
    do {                                                                                           \
        struct text text = text_create(work.arena);                                                \
        call;                                                                                      \
        CU_ASSERT_STRING_EQUAL(text.bytes, expected);                                              \
        CU_ASSERT_EQUAL(text.length, strlen(expected));                                            \
    } while (0)

static void building(void)
{
    struct work work = fixture_work();
    struct text text = text_create(work.arena);
    char expected[10000] = "";

    CU_ASSERT_STRING_EQUAL(text.bytes, "");
    for (int i = 0; i < 900; i++) {
        text_add(&text, "knit");
        text_add_bytes(&text, "12345", 2);
        text_addf(&text, "%d", i % 7);
        text_repeat(&text, '.', 2);
        snprintf(expected + strlen(expected), 16, "knit12%d..", i % 7);
    }
    text_repeat(&text, 'x', -3);
    CU_ASSERT_STRING_EQUAL(text.bytes, expected);
    CU_ASSERT_EQUAL(text.length, 900 * 9);
    fixture_end(&work);
}

static void wrapping(void)
{
    struct work work = fixture_work();

    /* width 10 holds ten characters, not eleven */
    CHECK(text_wrap(&text, "five five and", 0, 2, 9), "five five\n  and");
    CHECK(text_wrap(&text, "five fives and", 0, 2, 10), "five fives\n  and");
    CHECK(text_wrap(&text, "five fives and", 0, 2, 9), "five\n  fives\n  and");
    CHECK(text_wrap(&text, "  a   b\n c\t", 0, 0, 80), "a b c");
    CHECK(text_wrap(&text, "", 5, 3, 10), "");
    /* a word too long for any line stands alone, whole */
    CHECK(text_wrap(&text, "a unreasonably b", 0, 1, 6), "a\n unreasonably\n b");
    /* the count starts where the line already is, and in characters: ½ is one */
    CHECK((text_add(&text, "123456: "), text_wrap(&text, "ab cd", 8, 2, 10)), "123456: ab\n  cd");
    CHECK((text_add(&text, "123456: "), text_wrap(&text, "abc", 8, 2, 10)), "123456:\n  abc");
    CHECK(text_wrap(&text, "8½ 7½ 6", 0, 0, 5), "8½ 7½\n6");
    fixture_end(&work);
}

static void columns(void)
{
    CU_ASSERT_EQUAL(text_columns("8½ in"), 5);
    CU_ASSERT_EQUAL(text_columns("Möbius ″"), 8);
    CU_ASSERT_EQUAL(text_columns(""), 0);
}

static void characters(void)
{
    static const char *const bad[] = {
        "\x80",
        "\xC0\xAF",
        "\xC1\xBF",
        "\xC3",
        "\xC3(",
        "\xE0\x9F\xBF",
        "\xED\xA0\x80",
        "\xE2\x82",
        "\xF0\x8F\xBF\xBF",
        "\xF4\x90\x80\x80",
        "\xF5\x80\x80\x80",
        "\xFF",
    };
    uint32_t code = 0;

    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++)
        CU_ASSERT_EQUAL(text_character(bad[i], strlen(bad[i]), &code), 0);
    CU_ASSERT_EQUAL(text_character("z", 1, &code), 1);
    CU_ASSERT_EQUAL(code, 'z');
    CU_ASSERT_EQUAL(text_character("\xC2\xBD", 2, &code), 2);
    CU_ASSERT_EQUAL(code, 0xBD);
    CU_ASSERT_EQUAL(text_character("\xE2\x82\xACx", 4, &code), 3); /* RFC 3629: U+20AC */
    CU_ASSERT_EQUAL(code, 0x20AC);
    CU_ASSERT_EQUAL(text_character("\xF0\xA3\x8E\xB4", 4, &code), 4); /* RFC 3629, section 7 */
    CU_ASSERT_EQUAL(code, 0x233B4);
    CU_ASSERT_EQUAL(text_character("\xF0\xA3\x8E\xB4", 3, &code), 0);
    CU_ASSERT_EQUAL(text_character("", 0, NULL), 0);
}

static void decimals(void)
{
    struct work work = fixture_work();

    CHECK(text_decimal(&text, 2.50, 2), "2.5");
    CHECK(text_decimal(&text, 3, 2), "3");
    CHECK(text_decimal(&text, 2.385, 3), "2.385");
    CHECK(text_decimal(&text, -2.385, 1), "-2.4");
    CHECK(text_decimal(&text, 0.05, 3), "0.05");
    CHECK(text_decimal(&text, 1200, 2), "1200");
    CHECK(text_decimal(&text, 99.96, 1), "100");
    CHECK(text_decimal(&text, 83.64, 0), "84");
    /* halves as on paper, though the binary fractions lie below (2.675) or just on (0.125) */
    CHECK(text_decimal(&text, 2.675, 2), "2.68");
    CHECK(text_decimal(&text, 0.125, 2), "0.13");
    CHECK(text_decimal(&text, -0.125, 2), "-0.13");
    CHECK(text_decimal(&text, 1.005, 2), "1.01");
    CHECK(text_decimal(&text, 2.6749, 2), "2.67");
    CHECK(text_decimal(&text, 0.0049, 2), "0");
    CHECK(text_decimal(&text, -0.0049, 2), "0");
    CHECK(text_decimal(&text, 3e-200, 6), "0");
    CHECK(text_decimal(&text, 123456789012345.0, 2), "123456789012345");
    CHECK(text_decimal(&text, (double)NAN, 2), "?");
    CHECK(text_decimal(&text, (double)-INFINITY, 2), "?");
    fixture_end(&work);
}

static void json_numbers(void)
{
    struct work work = fixture_work();

    CHECK(text_json_number(&text, 0.1), "0.1");
    CHECK(text_json_number(&text, 0.1 + 0.2), "0.3");
    CHECK(text_json_number(&text, 120), "120");
    CHECK(text_json_number(&text, -7000), "-7000");
    CHECK(text_json_number(&text, 2.0 / 3.0), "0.666666667");
    CHECK(text_json_number(&text, -1234.56789012), "-1234.56789");
    CHECK(text_json_number(&text, 2.9999999999999), "3");
    CHECK(text_json_number(&text, 0.00125), "0.00125");
    CHECK(text_json_number(&text, -0.0), "0");
    CHECK(text_json_number(&text, 25000000), "25000000");
    CHECK(text_json_number(&text, (double)NAN), "null");
    CHECK(text_json_number(&text, (double)INFINITY), "null");
    fixture_end(&work);
}

static void eighths(void)
{
    struct work work = fixture_work();

    CHECK(text_eighths(&text, 10.5), "10 1/2");
    CHECK(text_eighths(&text, 0.375), "3/8");
    CHECK(text_eighths(&text, 0), "0");
    CHECK(text_eighths(&text, 7), "7");
    CHECK(text_eighths(&text, 8.75), "8 3/4");
    CHECK(text_eighths(&text, 8.93), "8 7/8");
    CHECK(text_eighths(&text, 8.94), "9");
    CHECK(text_eighths(&text, 10.0625), "10 1/8"); /* halfway between 10 and 10 1/8 */
    CHECK(text_eighths(&text, 10.0625 - 2e-12), "10 1/8");
    CHECK(text_eighths(&text, 10.062), "10");
    CHECK(text_eighths(&text, -0.04), "0");
    CHECK(text_eighths(&text, -1.5), "-1 1/2");
    CHECK(text_eighths(&text, -0.25), "-1/4");
    CHECK(text_eighths(&text, (double)NAN), "?");
    fixture_end(&work);
}

static void lengths(void)
{
    struct work work = fixture_work();

    CU_ASSERT_STRING_EQUAL(say_length(work.arena, 10.5, false), "10 1/2 in (26.7 cm)"); /* 26.67 */
    CU_ASSERT_STRING_EQUAL(say_length(work.arena, 2.385, false), "2 3/8 in (6.1 cm)");  /* 6.0579 */
    CU_ASSERT_STRING_EQUAL(say_length(work.arena, 100, true), "254 cm (100 in)");
    fixture_end(&work);
}

static void stitches(void)
{
    struct work work = fixture_work();

    CHECK(text_stitches(&text, rational_make(167, 2)), "83 1/2");
    CHECK(text_stitches(&text, rational_make(3, 4)), "3/4");
    CHECK(text_stitches(&text, rational_make(-21, 4)), "-5 1/4");
    CHECK(text_stitches(&text, rational_whole(72)), "72");
    CHECK(text_stitches(&text, rational_whole(0)), "0");
    CHECK(text_stitches(&text, rational_make(2091, 25)), "83.64");
    CHECK(text_stitches(&text, rational_make(669, 8)), "83.63"); /* 83.625, half up */
    CHECK(text_stitches(&text, rational_make(250, 3)), "83.33");
    CHECK(text_stitches(&text, rational_make(837, 10)), "83.7");
    CHECK(text_stitches(&text, rational_make(2999, 1000)), "3");
    CHECK(text_stitches(&text, rational_make(-1, 1000)), "0");
    CHECK(text_stitches(&text, rational_none()), "?");
    fixture_end(&work);
}

static void grouped(void)
{
    struct work work = fixture_work();

    CHECK(text_grouped(&text, 12345), "12,345");
    CHECK(text_grouped(&text, 999), "999");
    CHECK(text_grouped(&text, 1000), "1,000");
    CHECK(text_grouped(&text, 1234567), "1,234,567");
    CHECK(text_grouped(&text, -123456), "-123,456");
    CHECK(text_grouped(&text, -12), "-12");
    CHECK(text_grouped(&text, 0), "0");
    if (LONG_MIN < -2147483647L - 1)
        CHECK(text_grouped(&text, LONG_MIN), "-9,223,372,036,854,775,808");
    fixture_end(&work);
}

static void json_strings(void)
{
    struct work work = fixture_work();

    CHECK(text_json_string(&text, "Möbius 8½\""), "\"Möbius 8½\\\"\"");
    CHECK(text_json_string(&text, "a\\b/c"), "\"a\\\\b/c\"");
    CHECK(text_json_string(&text, "1\n2\t3\r4\x1B"), "\"1\\n2\\t3\\u000d4\\u001b\"");
    CHECK(text_json_string(&text, ""), "\"\"");
    CHECK(text_json_string(&text, "x\xFFy"), "\"x\\ufffdy\"");
    fixture_end(&work);
}

CU_TestInfo tests_text[] = {
    {"text is built piece by piece", building},
    {"lines break before the width", wrapping},
    {"columns count characters", columns},
    {"UTF-8 characters, and what is none", characters},
    {"decimals round as on paper", decimals},
    {"JSON numbers are short and exact to nine digits", json_numbers},
    {"inches to the nearest eighth", eighths},
    {"lengths in inches and centimetres", lengths},
    {"stitches with halves and quarters", stitches},
    {"thousands are set apart", grouped},
    {"JSON strings are escaped", json_strings},
    CU_TEST_INFO_NULL,
};
