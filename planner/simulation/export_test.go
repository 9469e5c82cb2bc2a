package simulation

// Wilson is for the tests.
var Wilson = wilson
