"""Why a finding stands, and why a rule is silent."""
