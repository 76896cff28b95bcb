"""Forms of the plan and the work: what was typed becomes clean values here."""
