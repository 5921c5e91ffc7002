/* The check character of ISO/IEC 7064, system MOD 37,36: one of 0-9 A-Z for any code of these. */
#include "check_character.h"
#include "toothrack/tag.h"

#define MODULUS 36

bool tag_is_separator(char c)
{
	return c == ' ' || c == '-' || c == '.' || c == '_';
}

/* 0 to 35, -1 for what is neither digit nor letter. */
static int character_value(char c)
{
	if (c >= '0' && c <= '9') {
		return c - '0';
	}
	if (c >= 'A' && c <= 'Z') {
		return c - 'A' + 10;
	}
	return c >= 'a' && c <= 'z' ? c - 'a' + 10 : -1;
}

bool tag_check_character(const char *code, char *check)
{
	/* The hybrid system: product modulo 37, sum modulo 36, where a sum of 0 counts as 36. */
	int product = MODULUS;
	bool empty = true;
	for (const char *c = code; *c != '\0'; c++) {
		int value = character_value(*c);
		if (tag_is_separator(*c)) {
			continue;
		}
		if (value < 0) {
			return false;
		}
		int sum = (product + value) % MODULUS;
		product = (sum == 0 ? MODULUS : sum) * 2 % (MODULUS + 1);
		empty = false;
	}
	if (empty) {
		return false;
	}
	/* With the check character added, the sum must be 1. */
	*check = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"[(MODULUS + 1 - product) % MODULUS];
	return true;
}
