package value

import (
	"strings"

	"lanewright/importers/sheet"
	"lanewright/planner/units"
)

const moneyWanted = "an amount of money such as 12.50"

// Money reads an amount, with or without the sign or ISO 4217 code of a
// currency before or behind it. Where the heading (or else the default) names
// a currency and the cell another one, it is a Problem; nothing is converted.
func Money(c sheet.Cell, headerUnit, defaultUnit string, m Marks) (units.Money, error) {
	if headerUnit == "" {
		headerUnit = defaultUnit
	}
	v, currency, err := amount(c, m)
	if err != nil {
		return 0, err
	}
	if currency != "" && headerUnit != "" && isCurrency(headerUnit) && currencyKey(currency) != currencyKey(headerUnit) {
		return 0, problem(c, moneyWanted+" in "+headerUnit, "Give the amount in the currency of the heading.")
	}
	money, ok := units.Amount(v)
	if !ok {
		return 0, problem(c, moneyWanted+" of reasonable size", "Correct the value.")
	}
	return money, nil
}

// amount reads the number and the currency written with it.
func amount(c sheet.Cell, m Marks) (v units.Ratio, currency string, err error) {
	bare := c
	if !c.Number && !unusable(c) {
		bare.Text, currency = cutCurrency(clean(c.Text))
	}
	n, err := readClear(bare, m, moneyWanted)
	switch {
	case err != nil:
		if p, ok := err.(Problem); ok { //nolint:errorlint // read returns nothing else
			p.Found = c.Text
			err = p
		}
		return v, "", err
	case n.rest == "" || c.Number && !isCurrency(n.rest):
		return n.value, currency, nil
	case currency == "" && isCurrency(n.rest):
		return n.value, n.rest, nil
	}
	return v, "", problem(c, moneyWanted, "Type the amount alone, at most with one currency.")
}

// cutCurrency takes a currency from the beginning of a text, also one behind
// a minus sign.
func cutCurrency(text string) (rest, currency string) {
	sign := ""
	body := text
	if strings.HasPrefix(body, "-") {
		sign, body = "-", strings.TrimSpace(body[1:])
	}
	i := strings.IndexAny(body, "-.0123456789")
	if i <= 0 || !isCurrency(body[:i]) {
		return text, ""
	}
	return sign + strings.TrimSpace(body[i:]), strings.TrimSpace(body[:i])
}

// isCurrency reports whether a text is the sign or the ISO 4217 code of a
// currency in wide use.
func isCurrency(text string) bool {
	switch strings.TrimSpace(text) {
	case "€", "$", "£", "¥", "US$", "₹", "₩", "zł", "Kč", "kr", "Fr.", "Ft", "R$", "₺",
		"EUR", "USD", "GBP", "CHF", "JPY", "CNY", "INR", "KRW", "CAD", "AUD", "NZD", "MXN", "BRL",
		"ARS", "CLP", "COP", "SEK", "NOK", "DKK", "PLN", "CZK", "HUF", "RON", "BGN", "RSD", "TRY",
		"UAH", "ZAR", "MAD", "TND", "THB", "VND", "MYR", "SGD", "IDR", "PHP", "TWD", "HKD", "ILS", "SAR", "AED":
		return true
	}
	return false
}

// currencyKey makes a sign and the code it surely stands for one.
func currencyKey(text string) string {
	switch text = strings.TrimSpace(text); text {
	case "€":
		return "EUR"
	case "£":
		return "GBP"
	case "US$":
		return "USD"
	case "zł":
		return "PLN"
	case "Kč":
		return "CZK"
	case "Ft":
		return "HUF"
	case "₹":
		return "INR"
	case "R$":
		return "BRL"
	}
	return text
}
