"""Who a visit is: matched from issue to issue, with what people must be told anew."""
