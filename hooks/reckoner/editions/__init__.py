"""What becomes of finished pages: one file of everything, the store of a phone, the security policy, icons."""
