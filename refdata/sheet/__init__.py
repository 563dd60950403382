"""The sheet room: gauges and what each is for, what stock weighs and gives, parts laid on sheets, a blank cut again."""
