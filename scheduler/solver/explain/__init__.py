"""Why a gap or a missed duty stands: one limit at a time is eased and tried."""
