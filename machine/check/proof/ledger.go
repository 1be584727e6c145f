package proof

// Ledger keeps what was proven.
type Ledger struct{}
